import { formatNumberIn } from "./formats";
import en from "./en.json";
import enBench from "./en.bench.json";
import type enDesk from "./en.desk.json";
import type enManager from "./en.manager.json";
import type enEditor from "./en.editor.json";
import type enEditorFields from "./en.editor-fields.json";
import type enInstruments from "./en.instruments.json";
import type enLock from "./en.lock.json";
import type enMyBench from "./en.my-bench.json";
import type enQueue from "./en.queue.json";
import type enRecord from "./en.record.json";
import type enScan from "./en.scan.json";
import type enSheets from "./en.sheets.json";
import type enWorksheet from "./en.worksheet.json";
import type enThisApp from "./en.this-app.json";

const first = { ...en, ...enBench };
/** Sentences of screens that few open: they come with the screen, by `addWords`. */
type Later = typeof enDesk &
  typeof enManager &
  typeof enLock &
  typeof enMyBench &
  typeof enEditor &
  typeof enEditorFields &
  typeof enInstruments &
  typeof enQueue &
  typeof enRecord &
  typeof enScan &
  typeof enSheets &
  typeof enThisApp &
  typeof enWorksheet;

export type WordKey = keyof typeof first | keyof Later;
type Stem<K> = K extends `${infer S}.other` ? S : never;
/** Keys that have a form for one and a form for many: `unsent.one`, `unsent.other`. */
export type CountKey = Stem<WordKey>;
type Values = Record<string, string | number>;
type Words = Record<string, string>;
type File = () => Promise<{ default: Words }>;

let language = $state("en");
let english: Words = first;
let chosen: Words = {};
let words = $state.raw<Words>(first);

/** Other languages, each file loaded only when its language is chosen. A language is files here and a line in `words/`. */
const others: Record<string, File[]> = {
  de: [() => import("./de.json"), () => import("./de.bench.json")],
};
let wanted = "en";
let arriving = Promise.resolve();

export function currentLanguage(): string {
  return language;
}

/** Changes the language of every screen. A sentence not yet translated stays English. */
export function useLanguage(name: string): Promise<void> {
  wanted = name in others ? name : "en";
  arriving = bring(wanted);
  return arriving;
}

/** Resolves once the sentences asked for so far are there, so that a screen need not begin in English. */
export function wordsArrived(): Promise<void> {
  return arriving;
}

/** Takes in the sentences of a screen when its code is loaded (`lib/words/editor.ts` and its like). */
export function addWords(more: Words, translated: Record<string, File[]>): void {
  english = { ...english, ...more };
  for (const [name, files] of Object.entries(translated)) others[name]?.push(...files);
  words = { ...english, ...chosen };
  arriving = bring(wanted);
}

/** Shows everything in a language; a file that cannot be had, as without network, leaves its sentences English. */
async function bring(name: string): Promise<void> {
  const files = await Promise.allSettled((others[name] ?? []).map((file) => file()));
  if (name !== wanted) return; // another was chosen meanwhile
  const there = files.map((file) => (file.status === "fulfilled" ? file.value.default : {}));
  chosen = Object.assign({}, ...there) as Words;
  words = { ...english, ...chosen };
  language = name;
  document.documentElement.lang = name;
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
