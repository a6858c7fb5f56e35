// What the keys of a keyboard do on a worksheet. Inside a field a key belongs to what is typed.
import type { WordKey } from "$lib/words";

export type Act = "next" | "before" | "list" | "undo" | "back" | "help";

interface Key {
  /** As it is written on the keyboard. */
  shown: string;
  word: WordKey;
}
/** What the sheet of keys shows, in this order. */
export const SHOWN_KEYS: Key[] = [
  { shown: "0 … 9  .  ,", word: "keys.digits" },
  { shown: "Enter", word: "keys.enter" },
  { shown: "n  →  PgDn", word: "keys.next" },
  { shown: "p  ←  PgUp", word: "keys.before" },
  { shown: "l", word: "keys.list" },
  { shown: "u", word: "keys.undo" },
  { shown: "b", word: "keys.back" },
  { shown: "Esc", word: "keys.close" },
  { shown: "?", word: "keys.help" },
];
const ANYWHERE: Record<string, Act> = { PageDown: "next", PageUp: "before" };
const OUTSIDE: Record<string, Act> = {
  n: "next",
  ArrowRight: "next",
  p: "before",
  ArrowLeft: "before",
  l: "list",
  u: "undo",
  b: "back",
  "?": "help",
};

type Pressed = Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "altKey" | "target" | "defaultPrevented">;

/** What a key asks for; null: it is not ours. */
export function actOf(event: Pressed): Act | null {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return null;
  const inField = isField(event.target);
  return ANYWHERE[event.key] ?? (inField ? null : (OUTSIDE[event.key] ?? null));
}

/** Whether a key begins a reading that nobody has put the cursor for. */
export function beginsReading(event: Pressed): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey || isField(event.target)) return false;
  return /^[0-9.,-]$/.test(event.key);
}

function isField(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest("input, textarea, select, [contenteditable]") !== null;
}
