import { formatNumberIn } from "./formats";
import en from "./en.json";
import enBench from "./en.bench.json";
import enDesk from "./en.desk.json";
import enManager from "./en.manager.json";
import type enEditor from "./en.editor.json";
import type enEditorFields from "./en.editor-fields.json";
import type enRecord from "./en.record.json";
import type enSheets from "./en.sheets.json";

const first = { ...en, ...enBench, ...enDesk, ...enManager };
/** Sentences of screens that few open: they come with the screen, by `addEnglish`. */
type Later = typeof enEditor & typeof enEditorFields & typeof enRecord & typeof enSheets;

export type WordKey = keyof typeof first | keyof Later;
type Stem<K> = K extends `${infer S}.other` ? S : never;
/** Keys that have a form for one and a form for many: `unsent.one`, `unsent.other`. */
export type CountKey = Stem<WordKey>;
type Values = Record<string, string | number>;

let language = $state("en");
let english: Record<string, string> = first;
let chosen: Record<string, string> = {};
let words = $state.raw<Record<string, string>>(first);

/** Other languages, each loaded only when chosen. A language is a file here and a line in `words/`. */
const others: Record<string, () => Promise<{ default: Record<string, string> }>> = {
  de: async () => {
    const parts = [import("./de.json"), import("./de.desk.json"), import("./de.manager.json")];
    const words = (await Promise.all(parts)).map((part) => part.default);
    return { default: Object.assign({}, ...words) as Record<string, string> };
  },
};

export function currentLanguage(): string {
  return language;
}

/** Changes the language of every screen. A sentence not yet translated stays English. */
export async function useLanguage(wanted: string): Promise<void> {
  const load = others[wanted];
  chosen = load ? (await load()).default : {};
  words = { ...english, ...chosen };
  language = load ? wanted : "en";
  document.documentElement.lang = language;
}

/** Takes in the English sentences of a screen when its code is loaded (`lib/words/editor.ts` and its like). */
export function addEnglish(more: Record<string, string>): void {
  english = { ...english, ...more };
  words = { ...english, ...chosen };
}

function fill(sentence: string, values: Values): string {
  return sentence.replace(/\{(\w+)\}/g, (whole, name: string) => String(values[name] ?? whole));
}

/** The sentence for a key, with `{name}` filled in from `values`. */
export function t(key: WordKey, values: Values = {}): string {
  return fill(words[key] ?? key, values);
}

/** The sentence for a number of things; `{count}` is the number itself. */
export function tn(key: CountKey, count: number, values: Values = {}): string {
  const form = new Intl.PluralRules(language).select(count);
  const found = words[`${key}.${form}`] ?? words[`${key}.other`] ?? key;
  return fill(found, { count: formatNumberIn(language, count), ...values });
}

/** The sentence for a key the server chose, or what to say instead when we have none. */
export function tMaybe(key: string, otherwise: string): string {
  return words[key] ?? otherwise;
}
