// Values in words: what was asked, and the figures of an answer, as rows of label and value.
import { t } from "$lib/words";
import type { EitherField, Field } from "./fields";
import { showWithUnit } from "./numbers";
import type { Given } from "./shapes";

export interface Row {
  label: string;
  value: string;
}

/** A row for each value that is there; what is inside of something is named after it: "Section 1, rated volt". */
export function rowsOf(fields: Field[], given: Given, prefix = ""): Row[] {
  return fields.flatMap((field) => rowsAt(field, given[field.name], named(prefix, field.title)));
}

const named = (prefix: string, title: string) => (prefix ? `${prefix}, ${title}` : title);

function rowsAt(field: Field, value: unknown, label: string): Row[] {
  if (value === null || value === undefined) return [];
  if (field.kind === "group") return rowsOf(field.fields, value as Given, label);
  if (field.kind === "either") return eitherRows(field, value as Given, label);
  if (field.kind !== "list") return [{ label, value: wordsFor(field, value) }];
  const items = value as unknown[];
  const isPlain = field.item.kind !== "group" && field.item.kind !== "either";
  if (isPlain)
    return items.length ? [{ label, value: items.map((one) => wordsFor(field.item, one)).join(", ") }] : [];
  return items.flatMap((item, i) => rowsAt(field.item, item, `${label} ${String(i + 1)}`));
}

function eitherRows(field: EitherField, given: Given, label: string): Row[] {
  const chosen = field.cases.find((one) => one.value === given[field.tag]);
  if (!chosen) return [];
  return [{ label, value: chosen.label }, ...rowsOf(chosen.fields, given, label)];
}

/** One plain value as people read it. */
export function wordsFor(field: Field, value: unknown): string {
  if (Array.isArray(value)) {
    const item = field.kind === "list" ? field.item : field;
    return value.map((one) => wordsFor(item, one)).join("–");
  }
  if (typeof value === "boolean") return t(value ? "calculators.yes" : "calculators.no");
  if (typeof value === "number")
    return showWithUnit(shortened(value), field.kind === "number" ? field.unit : "");
  if (field.kind === "choice")
    return field.options.find((option) => option.value === value)?.label ?? String(value);
  return typeof value === "string" ? value : JSON.stringify(value);
}

/** Worked-out figures have digits that mean nothing. */
const shortened = (value: number) => Number(value.toPrecision(6));

/** What a field takes when it is left out, in words; null when nothing can be said. */
export function fallbackWords(field: Field): string | null {
  const { fallback } = field;
  if (fallback === null || fallback === "" || (Array.isArray(fallback) && !fallback.length)) return null;
  if (field.kind === "group" || field.kind === "either" || field.kind === "flag") return null;
  return wordsFor(field, fallback);
}
