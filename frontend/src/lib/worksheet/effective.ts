import type { Entry } from "$lib/api/work-shapes";

/** Order of the record: by the server's `seq`; what it has not yet seen comes after, in the order of making. */
export function inOrder(entries: Entry[]): Entry[] {
  return [...entries].sort((a, b) => (a.seq ?? Infinity) - (b.seq ?? Infinity) || (a.id < b.id ? -1 : 1));
}

/** The entries that still stand: those no correction has replaced. */
export function effectiveEntries(entries: Entry[]): Entry[] {
  const replaced = new Set(entries.map((entry) => entry.replaces).filter((id) => id !== null));
  return inOrder(entries).filter((entry) => !replaced.has(entry.id));
}

/** The standing entries of each step; cells of a grid under `<step>/<row>/<column>`. */
export function byStep(entries: Entry[]): Map<string, Entry[]> {
  const found = new Map<string, Entry[]>();
  for (const entry of effectiveEntries(entries)) {
    if (entry.step) found.set(entry.step, [...(found.get(entry.step) ?? []), entry]);
  }
  return found;
}

/** What an entry replaced, and what that had replaced: the newest first. */
export function earlierOf(entry: Entry, all: ReadonlyMap<string, Entry>): Entry[] {
  const found: Entry[] = [];
  for (let one = before(entry, all); one && !found.includes(one); one = before(one, all)) found.push(one);
  return found;
}

function before(entry: Entry, all: ReadonlyMap<string, Entry>): Entry | undefined {
  return entry.replaces === null ? undefined : all.get(entry.replaces);
}

/** What was chosen on a look step; null while it is unanswered. */
export function choiceOn(standing: Map<string, Entry[]>, step: string): string | null {
  const last = standing.get(step)?.at(-1);
  return last?.kind === "choice" ? String(last.value["choice"]) : null;
}

/** The number read on a step, in its SI unit; null without one. */
export function numberOn(standing: Map<string, Entry[]>, step: string): number | null {
  const last = standing.get(step)?.at(-1);
  const text = last?.kind === "reading" ? last.value["value_text"] : null;
  return typeof text === "string" ? Number(text) : null;
}
