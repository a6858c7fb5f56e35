export interface Notice {
  id: number;
  text: string;
  kind: "said" | "trouble";
}

let shown = $state<Notice[]>([]);
let last = 0;

export function notices(): Notice[] {
  return shown;
}

/** Says something briefly at the foot of the screen, for `forMs`. Trouble stays until it is closed. */
export function notify(text: string, kind: Notice["kind"] = "said", forMs = 2000): void {
  const id = ++last;
  // One word of success at a time; trouble is not pushed away by it.
  const kept = shown.filter((notice) => notice.kind === "trouble" && notice.text !== text).slice(-2);
  shown = [...kept, { id, text, kind }];
  if (kind === "said") setTimeout(() => dismiss(id), forMs);
}

export function dismiss(id: number): void {
  shown = shown.filter((notice) => notice.id !== id);
}
