// What the check of a draft found, brought to the field it is about.
import type { Path } from "./body";

export interface Problem {
  /** Seen from where it is shown: empty for the whole of it. */
  path: Path;
  reason: string;
}

/** Those inside of one part, seen from there. */
export function under(problems: Problem[], ...names: Path): Problem[] {
  return problems
    .filter(({ path }) => names.every((name, i) => String(path[i]) === String(name)))
    .map(({ path, reason }) => ({ path: path.slice(names.length), reason }));
}

/** Those inside of none of these parts: they are said for the whole. */
export function beside(problems: Problem[], names: readonly string[]): Problem[] {
  return problems.filter(({ path }) => !names.includes(String(path[0])));
}

/** All of them as one sentence for a field; null when there is none. */
export function sentenceOf(problems: Problem[]): string | null {
  return [...new Set(problems.map(({ reason }) => reason))].join(" ") || null;
}
