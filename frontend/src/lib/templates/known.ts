// Something that can be named in a template, in words: found by its path, by words, by what is wanted.
import { RULES, isQuantity } from "$lib/calc/quantities";
import { currentLanguage, t } from "$lib/words";
import type { Plain, Sentence } from "./body";
import type { NamedFact } from "./named";
import { inLanguage, withTitles } from "./sentences";
import { factorBetween } from "./units";

export type KnownType = NamedFact["type"];
export interface Known {
  path: string;
  title: string;
  /** What it belongs to, as a heading: "Model sheet", "Asked at the start", the title of a calculation. */
  group: string;
  type: KnownType;
  quantity: string | null;
  unit: string | null;
  choices: { key: Plain; title: string }[];
  /** What a row of a list holds; their paths begin with the name that the loop gives the row. */
  rows: Known[];
  /** An answer for each turn of a loop elsewhere: it can be told of, but not be picked. */
  looped?: boolean;
}
export function plainKnown(path: string, title: string, type: KnownType): Known {
  return { path, title, group: "", type, quantity: null, unit: null, choices: [], rows: [] };
}

/** Lists, and whole numbers, that something can be repeated for. */
export const listsIn = (known: Known[]): Known[] =>
  pickable(known).filter((one) => one.type === "list" || (one.type === "number" && one.quantity === "count"));

/** What can be named here at all. */
export const pickable = (known: Known[]): Known[] => known.filter((one) => !one.looped);

/** What is known under a path; a row of a list may be named by its number. */
export function knownAt(known: Known[], path: string): Known | null {
  const exact = known.find((one) => one.path === path);
  if (exact) return exact;
  const list = known.find((one) => one.type === "list" && path.startsWith(`${one.path}.`));
  const [, number, inside] = /^(\d+)(?:\.(.+))?$/.exec(list ? path.slice(list.path.length + 1) : "") ?? [];
  if (!list || number === undefined) return null;
  const numbered = t("fields.known.numbered", { title: list.title, number: Number(number) + 1 });
  if (!inside) return { ...plainKnown(path, numbered, "text"), group: list.group };
  const row = list.rows.find((one) => one.path === inside);
  return row ? { ...row, path, title: `${numbered}, ${row.title}`, group: list.group } : null;
}

/** Title and what it belongs to; the path itself where nothing is known under it. */
export function titleOf(known: Known[], path: string): string {
  const found = knownAt(known, path);
  if (!found) return path;
  return found.group ? `${found.group}: ${found.title}` : found.title;
}

/** A sentence to be read: in the reader's language, its values by their titles. */
export const readable = (sentence: Sentence | undefined, known: Known[]): string =>
  withTitles(inLanguage(sentence, currentLanguage()), (path) => knownAt(known, path)?.title ?? path);

/** What a place wants to have: fitting things are offered first. */
export interface Wanted {
  types?: KnownType[];
  quantity?: string | null;
  unit?: string | null;
}

export function fits(one: Known, wanted: Wanted): boolean {
  const { quantity } = wanted;
  if (!isOfType(one, wanted)) return false;
  if (quantity && one.quantity) return one.quantity === quantity || sameUnit(one.quantity, quantity);
  const unit = unitWanted(wanted);
  return unit && one.unit ? factorBetween(one.unit, unit) !== null : !quantity && !unit;
}

/** The unit a number is wanted in. */
export const unitWanted = ({ quantity, unit }: Wanted): string =>
  unit ?? (quantity && isQuantity(quantity) ? RULES[quantity].symbol : "");

/** A choice whose answers are numbers is a number too. */
export function isOfType({ type, choices }: Known, { types }: Wanted): boolean {
  if (!types || types.includes(type)) return true;
  const isNumber = choices.length > 0 && choices.every(({ key }) => typeof key === "number");
  return isNumber && types.includes("number");
}

const sameUnit = (one: string, other: string) =>
  isQuantity(one) && isQuantity(other) && RULES[one].unit === RULES[other].unit;

/** What fits and holds every word typed; then what is of the right type only. */
export function searched(
  known: Known[],
  typed: string,
  wanted: Wanted = {},
): { fitting: Known[]; others: Known[] } {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const holds = ({ title, group }: Known) => {
    const text = `${group} ${title}`.toLowerCase();
    return words.every((word) => text.includes(word));
  };
  const found = pickable(known).filter((one) => isOfType(one, wanted) && holds(one));
  return {
    fitting: found.filter((one) => fits(one, wanted)),
    others: found.filter((one) => !fits(one, wanted)),
  };
}
