// A condition on earlier choices as rows that must all hold, where it is one.
import type { BenchCondition } from "./body";

export interface ChosenRow {
  step: string;
  keys: string[];
  /** It must be none of these. */
  negated: boolean;
}

/** The rows of a condition; null where it is deeper than rows can say. */
export function chosenRows(condition: BenchCondition | undefined): ChosenRow[] | null {
  if (!condition) return [];
  if (!("and" in condition)) return together([rowOf(condition)]);
  return together(condition.and.map(rowOf));
}

function together(rows: (ChosenRow | null)[]): ChosenRow[] | null {
  const found = rows.filter((row) => row !== null);
  return found.length === rows.length ? found : null;
}

function rowOf(condition: BenchCondition): ChosenRow | null {
  if ("eq" in condition) return { step: condition.eq[0], keys: [condition.eq[1]], negated: false };
  if ("in" in condition) return { step: condition.in[0], keys: condition.in[1], negated: false };
  if (!("not" in condition)) return null;
  const inner = rowOf(condition.not);
  return inner && !inner.negated ? { ...inner, negated: true } : null;
}

/** The condition that rows make; none where there is no row. */
export function conditionOfChosen(rows: ChosenRow[]): BenchCondition | undefined {
  const parts = rows.map(conditionOf);
  return parts.length > 1 ? { and: parts } : parts[0];
}

function conditionOf({ step, keys, negated }: ChosenRow): BenchCondition {
  const [first = ""] = keys;
  const plain: BenchCondition = keys.length > 1 ? { in: [step, keys] } : { eq: [step, first] };
  return negated ? { not: plain } : plain;
}
