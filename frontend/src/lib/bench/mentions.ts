// Names in a note: typed after an @, kept as ids beside the text. Pure.
import type { Id, Person } from "$lib/api/shapes";

export interface Typing {
  /** Where the @ stands. */
  start: number;
  /** What was typed after it so far. */
  typed: string;
}

const LONGEST = 80;

/** The name that is being typed before the caret; null where none is. An @ inside a word is none: mail@ has one. */
export function typingAt(text: string, caret: number): Typing | null {
  const before = text.slice(0, caret);
  const start = before.lastIndexOf("@");
  const typed = before.slice(start + 1);
  if (start < 0 || typed.length > LONGEST || /\n/.test(typed)) return null;
  return start === 0 || /[\s(]/.test(before[start - 1] ?? "") ? { start, typed } : null;
}

/** Whose name begins like that, in any of its parts; nobody once it is whole. */
export function offers(people: readonly Person[], typed: string): Person[] {
  const wanted = typed.toLocaleLowerCase();
  const fits = (name: string) =>
    name.startsWith(wanted) || name.split(/\s+/).some((part) => part.startsWith(wanted));
  return people.filter((one) => {
    const name = one.name.toLocaleLowerCase();
    return fits(name) && name !== wanted.trim();
  });
}

/** The text with the name in place of what was typed of it, and where the caret comes to stand. */
export function withName(text: string, typing: Typing, name: string): { text: string; caret: number } {
  const end = typing.start + 1 + typing.typed.length;
  const head = `${text.slice(0, typing.start)}@${name} `;
  return { text: head + text.slice(end).replace(/^ /, ""), caret: head.length };
}

/** The ids of everybody whom a text names. Where one name begins like another, the longer one counts. */
export function mentionsIn(text: string, people: readonly Person[]): Id[] {
  const longestFirst = [...people].sort((a, b) => b.name.length - a.name.length);
  const found = new Set<Id>();
  for (const { index } of text.matchAll(/(?<![^\s(])@/g)) {
    const rest = text.slice(index + 1);
    const named = longestFirst.find(
      ({ name }) => rest.startsWith(name) && !/^[\p{L}\p{N}_]/u.test(rest.slice(name.length)),
    );
    if (named) found.add(named.id);
  }
  return [...found];
}
