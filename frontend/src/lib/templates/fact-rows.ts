// A condition on facts as rows of which all, or any, must hold, where it is one.
import type { FactCondition, Plain } from "./body";

export type ComparedWord = "eq" | "in" | "has" | "known" | "at_least";
export interface ComparedRow {
  word: ComparedWord;
  path: string;
  /** None for `known`; several for `in`. */
  values: Plain[];
  negated: boolean;
}
export interface ComparedRows {
  joined: "and" | "or";
  rows: ComparedRow[];
}

/** The rows of a condition; null where it is deeper than rows can say. */
export function comparedRows(condition: FactCondition | undefined): ComparedRows | null {
  if (!condition) return { joined: "and", rows: [] };
  const joined = "or" in condition ? "or" : "and";
  const parts = "or" in condition ? condition.or : "and" in condition ? condition.and : [condition];
  const rows = parts.map(rowOf).filter((row) => row !== null);
  return rows.length === parts.length ? { joined, rows } : null;
}

function rowOf(condition: FactCondition): ComparedRow | null {
  if ("known" in condition) return { word: "known", path: condition.known, values: [], negated: false };
  if ("eq" in condition)
    return { word: "eq", path: condition.eq[0], values: [condition.eq[1]], negated: false };
  if ("in" in condition)
    return { word: "in", path: condition.in[0], values: condition.in[1], negated: false };
  if ("has" in condition)
    return { word: "has", path: condition.has[0], values: [condition.has[1]], negated: false };
  if ("at_least" in condition)
    return { word: "at_least", path: condition.at_least[0], values: [condition.at_least[1]], negated: false };
  if (!("not" in condition)) return null;
  const inner = rowOf(condition.not);
  return inner && !inner.negated ? { ...inner, negated: true } : null;
}

/** The condition that rows make; none where there is no row. */
export function conditionOfCompared({ joined, rows }: ComparedRows): FactCondition | undefined {
  const parts = rows.map(conditionOf);
  if (parts.length < 2) return parts[0];
  return joined === "and" ? { and: parts } : { or: parts };
}

function conditionOf({ word, path, values, negated }: ComparedRow): FactCondition {
  const plain = plainCondition(word, path, values);
  return negated ? { not: plain } : plain;
}

function plainCondition(word: ComparedWord, path: string, values: Plain[]): FactCondition {
  const [first = ""] = values;
  switch (word) {
    case "known":
      return { known: path };
    case "eq":
      return { eq: [path, first] };
    case "in":
      return { in: [path, values] };
    case "has":
      return { has: [path, first] };
    case "at_least":
      return { at_least: [path, Number(first)] };
  }
}
