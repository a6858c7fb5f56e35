import type { CalculatorRow, Schema } from "$lib/calculators/shapes";

/** A calculator with the words it is found by, each with what it counts. */
export interface Indexed {
  row: CalculatorRow;
  words: Map<string, number>;
}
interface Asked {
  text: string;
  /** The whole word is meant, not its beginning. */
  whole: boolean;
}

/** What a word counts for by where it stands. */
const COUNTS = { title: 5, words: 4, question: 3, area: 2, field: 1 };
/** What holds less than this share of the best one's points is left out. */
const SHARE = 0.4;
const FEWEST_LETTERS = 4;
/** Words of any question, in the languages of the screens: they say nothing about which one. */
const ANY_QUESTION = new Set(
  (
    "an and are at by can do does for from have in is it its may me my of on or that the this to what " +
    "when which with das dem den der die ein eine für ich ist mein mit und von was welche welcher wie zu"
  ).split(" "),
);

export function indexOf(rows: CalculatorRow[]): Indexed[] {
  return rows.map((row) => ({ row, words: wordsOf(row) }));
}

/**
 * The calculators for what was typed, best first. What no calculator has, mostly the figures that belong into
 * its form, is passed over; a word that hardly any has says most.
 */
export function found(index: Indexed[], typed: string): CalculatorRow[] {
  const words = split(typed).flatMap((word) => known(index, word));
  const points = words.map((word) => pointsOf(index, word));
  const scored = index
    .map(({ row }, i) => ({ row, score: points.reduce((sum, one) => sum + (one[i] ?? 0), 0) }))
    .sort((one, other) => other.score - one.score);
  const least = SHARE * (scored[0]?.score ?? 0);
  return scored.filter(({ score }) => score > 0 && score >= least).map(({ row }) => row);
}

function wordsOf(row: CalculatorRow): Map<string, number> {
  const words = new Map<string, number>();
  const add = (text: string, count: number) => {
    for (const word of pieces(text)) words.set(word, Math.max(count, words.get(word) ?? 0));
  };
  add(row.title, COUNTS.title);
  add(row.words ?? "", COUNTS.words);
  add(row.question, COUNTS.question);
  add(`${row.area.title} ${row.name}`, COUNTS.area);
  for (const title of titlesIn(row.input)) add(title, COUNTS.field);
  return words;
}

/** The titles of a form's fields; those of its shapes are names for programmers. */
function titlesIn(input: Schema): string[] {
  const shapes = [input, ...Object.values(input.$defs ?? {})];
  return shapes.flatMap((shape) => Object.values(shape.properties ?? {}).map((field) => field.title ?? ""));
}

const pieces = (text: string) => text.toLowerCase().match(/[\p{L}\p{N}²+]+/gu) ?? [];

const FIGURE = /^[0-9]+(?=\p{L}{0,2}$)/u;

/** What was typed without single letters, digits and what any question has. */
const split = (typed: string) => pieces(typed).filter((word) => word.length > 1 && !ANY_QUESTION.has(word));

/** A word as some calculator has it, without its ending if need be; nothing if none has it. */
function known(index: Indexed[], word: string): Asked[] {
  const text = endingsOf(word).find((text) => index.some(({ words }) => countOf(words, asked(text))));
  return text ? [asked(text)] : [];
}

function endingsOf(word: string): string[] {
  const [figure] = FIGURE.exec(word) ?? [];
  if (figure) return [word, figure];
  const spare = Math.max(0, word.length - FEWEST_LETTERS);
  return Array.from({ length: spare + 1 }, (_, cut) => word.slice(0, word.length - cut));
}

const asked = (text: string): Asked => ({ text, whole: text.length < 3 || FIGURE.test(text) });

function countOf(words: Map<string, number>, { text, whole }: Asked): number {
  const full = words.get(text) ?? 0;
  if (full || whole) return full;
  let most = 0;
  for (const [word, count] of words) if (word.startsWith(text)) most = Math.max(most, count);
  return most;
}

function pointsOf(index: Indexed[], asked: Asked): number[] {
  const counts = index.map(({ words }) => countOf(words, asked));
  const rarity = Math.log(1 + index.length / counts.filter(Boolean).length);
  return counts.map((count) => count * rarity);
}
