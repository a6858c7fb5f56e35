// What stands in a form, as typed, and the input it makes.
import { inputSentence } from "$lib/words/input-words";
import { t } from "$lib/words";
import type { ChoiceField, EitherField, Field, ListField, TextField } from "./fields";
import { readNumber, showNumber } from "./numbers";
import type { Given } from "./shapes";

/** As typed: text for numbers, words and choices; null for a part of the form that is left out. */
export type Draft = string | boolean | null | Draft[] | { [name: string]: Draft };
export type Drafts = Record<string, Draft>;
/** The sentence for each path that cannot be used: `sections[0].taps`. */
export type Troubles = Record<string, string>;

export function draftsOf(fields: Field[], given: Given = {}): Drafts {
  return Object.fromEntries(fields.map((field) => [field.name, draftOf(field, given[field.name])]));
}

/** How a value stands in the form; `undefined` gives what stands there at first. */
export function draftOf(field: Field, value?: unknown): Draft {
  const known = value ?? null;
  switch (field.kind) {
    case "number":
      return typeof known === "number" ? showNumber(known, field.unit) : "";
    case "text":
      return typeof known === "string" ? known : "";
    case "choice":
      return keyOf(field, known ?? field.fallback);
    case "flag":
      return Boolean(known ?? field.fallback);
    case "group":
      return known === null && !field.required ? null : draftsOf(field.fields, objectOf(known));
    case "list":
      return rowsOf(field, known ?? field.fallback);
    case "either":
      return eitherOf(field, known);
    case "free":
      return known === null ? "" : typeof known === "string" ? known : JSON.stringify(known);
  }
}

const objectOf = (value: unknown) => (value && typeof value === "object" ? value : {}) as Given;

function keyOf({ options }: ChoiceField, value: unknown): string {
  return options.find((option) => option.value === value)?.key ?? "";
}

function rowsOf(field: ListField, value: unknown): Draft[] | null {
  if (Array.isArray(value)) return value.map((row) => draftOf(field.item, row));
  return field.required ? firstRows(field) : null;
}

/** As many empty rows as a list begins with. */
export function firstRows({ item, atFirst }: ListField): Draft[] {
  return Array.from({ length: atFirst }, () => draftOf(item));
}

function eitherOf(field: EitherField, value: unknown): Draft {
  if (value === null && !field.required) return null;
  const given = objectOf(value);
  const chosen = field.cases.find((one) => one.value === given[field.tag]) ?? field.cases[0];
  return chosen ? { [field.tag]: chosen.key, ...draftsOf(chosen.fields, given) } : null;
}

/** The input that a form makes. What stands at its default is left out. */
export function inputFrom(fields: Field[], drafts: Drafts): { given: Given; troubles: Troubles } {
  const troubles: Troubles = {};
  return { given: objectFrom(fields, drafts, "", troubles), troubles };
}

function objectFrom(fields: Field[], drafts: Drafts, path: string, troubles: Troubles): Given {
  const given: Given = {};
  for (const field of fields) {
    const value = valueFrom(field, drafts[field.name] ?? null, below(path, field.name), troubles);
    const isDefault = !field.required && JSON.stringify(value) === JSON.stringify(field.fallback);
    if (value !== undefined && !isDefault) given[field.name] = value;
  }
  return given;
}

/** The path of a field, as the server writes it too. */
export function below(path: string, name: string | number): string {
  if (typeof name === "number") return `${path}[${String(name)}]`;
  return path ? `${path}.${name}` : name;
}

function valueFrom(field: Field, draft: Draft, path: string, troubles: Troubles): unknown {
  if (draft === null || isEmpty(draft)) {
    if (field.required) troubles[path] = t("calculators.needed");
    return undefined;
  }
  const typed = typeof draft === "string" ? draft : "";
  switch (field.kind) {
    case "number":
      return attempt(path, troubles, () => readNumber(typed, field));
    case "text":
      return textFrom(field, typed, path, troubles);
    case "choice":
      return field.options.find((option) => option.key === draft)?.value;
    case "flag":
      return draft === true;
    case "group":
      return objectFrom(field.fields, draft as Drafts, path, troubles);
    case "list":
      return rowsFrom(field, draft as Draft[], path, troubles);
    case "either":
      return eitherFrom(field, draft as Drafts, path, troubles);
    case "free":
      return freeFrom(typed);
  }
}

function attempt(path: string, troubles: Troubles, read: () => unknown): unknown {
  try {
    return read();
  } catch (error) {
    troubles[path] = inputSentence(error);
    return undefined;
  }
}

function textFrom(field: TextField, typed: string, path: string, troubles: Troubles): string {
  const text = typed.trim();
  if (field.longest !== null && text.length > field.longest)
    troubles[path] = t("calculators.too_long", { longest: field.longest });
  else if (field.pattern && !fits(field.pattern, text))
    troubles[path] = field.examples.length
      ? t("calculators.not_like", { example: String(field.examples[0]) })
      : t("calculators.not_this_form");
  return text;
}

/** A pattern that this browser cannot read refuses nothing: the server reads it again. */
function fits(pattern: string, text: string): boolean {
  try {
    return new RegExp(pattern, "u").test(text);
  } catch {
    return true;
  }
}

const isEmpty = (draft: Draft) => draft === null || (typeof draft === "string" && !draft.trim());

/** Rows left empty are not asked, unless the list needs them. */
function rowsFrom(field: ListField, drafts: Draft[], path: string, troubles: Troubles): unknown[] {
  if (drafts.length < field.fewest) troubles[path] = t("calculators.too_few", { fewest: field.fewest });
  const isEnough = drafts.filter((draft) => !isEmpty(draft)).length >= Math.max(field.fewest, 1);
  return drafts.flatMap((draft, i) =>
    isEnough && isEmpty(draft) ? [] : [valueFrom(field.item, draft, below(path, i), troubles)],
  );
}

function eitherFrom(field: EitherField, drafts: Drafts, path: string, troubles: Troubles): unknown {
  const chosen = field.cases.find((one) => one.key === drafts[field.tag]);
  if (!chosen) return undefined;
  return { [field.tag]: chosen.value, ...objectFrom(chosen.fields, drafts, path, troubles) };
}

/** JSON where it is JSON, else the words themselves. */
function freeFrom(typed: string): unknown {
  try {
    return JSON.parse(typed) as unknown;
  } catch {
    return typed.trim();
  }
}

/** Every path that a form shows, so that a sentence of the server finds its place. */
export function pathsOf(fields: Field[], drafts: Drafts, path = ""): string[] {
  return fields.flatMap((field) => pathsAt(field, drafts[field.name] ?? null, below(path, field.name)));
}

function pathsAt(field: Field, draft: Draft, path: string): string[] {
  if (draft === null || typeof draft !== "object") return [path];
  if (Array.isArray(draft)) {
    const rows =
      field.kind === "list" ? draft.flatMap((row, i) => pathsAt(field.item, row, below(path, i))) : [];
    return [path, ...rows];
  }
  if (field.kind === "group") return [path, ...pathsOf(field.fields, draft, path)];
  if (field.kind !== "either") return [path];
  const chosen = field.cases.find((one) => one.key === draft[field.tag]);
  return [path, below(path, field.tag), ...pathsOf(chosen?.fields ?? [], draft, path)];
}

/** The nearest shown place of a path: itself, what it is inside of, or the whole form (""). */
export function placeOf(path: string, shown: string[]): string {
  for (let at = path; at; at = at.replace(/(\[\d+\]|\.?[^.[\]]+)$/, "")) if (shown.includes(at)) return at;
  return "";
}
