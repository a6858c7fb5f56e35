import type { Plain } from "$lib/templates/body";
import type { ComparedRow, ComparedWord } from "$lib/templates/fact-rows";
import type { Known } from "$lib/templates/sources";

/** How a fact can be compared, by what it is. */
export function wordsFor(known: Known | null): ComparedWord[] {
  switch (known?.type) {
    case "number":
      return ["at_least", "eq", "known"];
    case "list":
      return ["has", "known"];
    case "choice":
      return ["eq", "in", "known"];
    case "object":
      return ["known"];
    default:
      return ["eq", "known"];
  }
}

/** A comparison as it begins, with the first thing that can be said about the fact. */
export function firstRow(known: Known): ComparedRow {
  const word: ComparedWord =
    known.type === "number" || known.type === "object" ? "known" : (wordsFor(known)[0] ?? "known");
  return { word, path: known.path, values: firstValues(known, word), negated: false };
}

/** Another way of comparing; values that still make sense stay. */
export function withWord(row: ComparedRow, word: ComparedWord, known: Known | null): ComparedRow {
  const isSame = row.values.length > 0 && word !== "known" && word !== "at_least" && row.word !== "at_least";
  return { ...row, word, values: isSame ? row.values : firstValues(known, word) };
}

function firstValues(known: Known | null, word: ComparedWord): Plain[] {
  if (word === "known") return [];
  if (word === "at_least") return [0];
  if (known?.type === "yes_no") return [true];
  if (known?.type === "number") return [0];
  return [known?.choices[0]?.key ?? ""];
}
