// The plain ways in which a value can be said, and which of them an expression is.
import type { Expression, Source } from "./body";
import { unitWanted, type Known, type Wanted } from "./sources";
import { factorBetween } from "./units";

/** `else` is a list of plain ones of which the first known counts; `complex` is shown and left alone. */
export type SourceKind = "none" | "number" | "known" | "else" | "complex";

export function kindOf(source: Source | undefined): SourceKind {
  if (source === null || source === undefined) return "none";
  if (typeof source === "number") return "number";
  if (source.fact !== undefined || source.work !== undefined) return "known";
  if (source.first) return source.first.every((one) => isPlain(kindOf(one))) ? "else" : "complex";
  return typeof source.value === "number" && source.times === undefined ? "number" : "complex";
}

const isPlain = (kind: SourceKind) => kind === "number" || kind === "known";

/** The number of a source that is one. */
export function numberOf(source: Source | undefined): number | null {
  if (typeof source === "number") return source;
  return typeof source?.value === "number" ? source.value : null;
}

/** A number in the way the value was said before: plain, or as an expression. */
export function asNumber(number: number, before: Source | undefined): Source {
  return before && typeof before === "object" && "value" in before ? { ...before, value: number } : number;
}

/** The path that a source names, as `work.fuse.value.mark` where it is an answer. */
export function pathOf(source: Source | undefined): string | null {
  if (!source || typeof source === "number") return null;
  return source.fact ?? (source.work === undefined ? null : `work.${source.work}`);
}

/** An expression for something known, in the unit that is wanted. Whether it may be left out stays as it was said. */
export function fromKnown(
  { path, unit }: Known,
  wanted: Wanted,
  before: Source | undefined = null,
): Expression {
  const times = unit ? factorBetween(unit, unitWanted(wanted)) : null;
  const { optional } = before && typeof before === "object" ? before : {};
  const beside = {
    ...(times === null || times === 1 ? {} : { times }),
    ...(optional === undefined ? {} : { optional }),
  };
  return path.startsWith("work.") ? { work: path.slice(5), ...beside } : { fact: path, ...beside };
}
