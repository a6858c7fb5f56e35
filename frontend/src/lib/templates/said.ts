// Expressions, conditions and limits of a template as sentences for a manager.
import { isQuantity, RULES } from "$lib/calc/quantities";
import { formatValue } from "$lib/calc/readings";
import { formatNumber, t } from "$lib/words";
import type { Band, BenchCondition, Expression, FactCondition, Loop, Plain, Source } from "./body";
import { knownAt, rowOf, titleOf, type Known, type Look, type Place } from "./sources";

type Knows = Pick<Place, "known">;

/** Where a value comes from, as a phrase: "the largest of …", "Unit: rated power, × 0.1". */
export function saidSource(source: Source | undefined, place: Knows, unit = ""): string {
  if (source === null || source === undefined) return t("fields.said.nothing");
  if (typeof source === "number") return formatValue(source, unit);
  const phrase = saidExpression(source, place, unit);
  return source.times === undefined
    ? phrase
    : t("fields.said.times", { phrase, times: formatNumber(source.times) });
}

function saidExpression(one: Expression, place: Knows, unit: string): string {
  const inner = (expression: Expression) => saidSource(expression, place, unit);
  if (one.fact !== undefined) return titleOf(place.known, one.fact);
  if (one.work !== undefined) return titleOf(place.known, `work.${one.work}`);
  if (one.first) return one.first.map(inner).join(` ${t("fields.said.or_else")} `);
  if (one.list) return t("fields.said.list", { list: one.list.map(inner).join("; ") });
  if (one.largest) return t("fields.said.largest", { of: inner(one.largest) });
  if (one.smallest) return t("fields.said.smallest", { of: inner(one.smallest) });
  if (one.object) return saidObject(one.object, inner);
  if (one.each) return saidEach(one.each, place, unit);
  return saidValue(one.value, unit);
}

const saidObject = (object: Record<string, Expression>, inner: (one: Expression) => string) =>
  Object.entries(object)
    .map(([name, one]) => `${worded(name)} ${inner(one)}`)
    .join("; ");

function saidEach(
  { over, as, take, when }: NonNullable<Expression["each"]>,
  place: Knows,
  unit: string,
): string {
  const inside = { known: [...rowOf({ over, as }, place.known), ...place.known] };
  const each = t("fields.said.each", {
    list: titleOf(place.known, over),
    take: saidSource(take, inside, unit),
  });
  return when ? t("fields.said.where", { each, condition: saidFacts(when, inside) }) : each;
}

export function saidValue(value: unknown, unit = ""): string {
  if (typeof value === "number") return formatValue(value, unit);
  if (typeof value === "boolean") return t(value ? "calculators.yes" : "calculators.no");
  if (Array.isArray(value)) return value.map((one) => saidValue(one, unit)).join(", ");
  if (!value || typeof value !== "object") return typeof value === "string" ? value : "–";
  return Object.entries(value)
    .map(([name, one]) => `${worded(name)} ${saidValue(one, unit)}`)
    .join("; ");
}

/** `setting_volt` as people read it. */
const worded = (name: string) => name.replaceAll("_", " ");

/** A condition on facts, as what must hold. */
export function saidFacts(condition: FactCondition, place: Knows): string {
  if ("and" in condition) return joined(condition.and, "and", (one) => saidFacts(one, place));
  if ("or" in condition) return joined(condition.or, "or", (one) => saidFacts(one, place));
  if ("not" in condition) return saidNot(condition.not, place);
  if ("known" in condition) return t("fields.said.known", { what: titleOf(place.known, condition.known) });
  return saidCompared(condition, place, false);
}

function saidNot(inner: FactCondition, place: Knows): string {
  if ("known" in inner) return t("fields.said.not_known", { what: titleOf(place.known, inner.known) });
  if ("eq" in inner || "in" in inner || "has" in inner || "at_least" in inner)
    return saidCompared(inner, place, true);
  return t("fields.said.not", { condition: saidFacts(inner, place) });
}

type Compared = Extract<
  FactCondition,
  { eq: unknown } | { in: unknown } | { has: unknown } | { at_least: unknown } | { same: unknown }
>;

function saidCompared(condition: Compared, place: Knows, negated: boolean): string {
  const not = negated ? "not_" : "";
  if ("same" in condition) {
    const [what, other] = condition.same.map((path) => titleOf(place.known, path));
    return t("fields.said.same", { what: what ?? "", other: other ?? "" });
  }
  const [[word, [path, value]]] = Object.entries(condition) as [
    ["eq" | "in" | "has" | "at_least", [string, unknown]],
  ];
  const known = knownAt(place.known, path);
  const values = (Array.isArray(value) ? value : [value]) as Plain[];
  return t(`fields.said.${not}${word}`, {
    what: titleOf(place.known, path),
    value: values.map((one) => saidOf(known, one)).join(` ${t("fields.said.or")} `),
  });
}

/** A value as the fact it is compared with calls it. */
export function saidOf(known: Known | null, value: Plain): string {
  return known?.choices.find((one) => one.key === value)?.title ?? saidValue(value, known?.unit ?? "");
}

function joined<T>(parts: T[], word: "and" | "or", said: (part: T) => string): string {
  return parts.map(said).join(` ${t(`fields.said.${word}`)} `);
}

/** A condition on earlier choices, as what must hold. */
export function saidChoices(condition: BenchCondition, looks: Look[]): string {
  if ("and" in condition) return joined(condition.and, "and", (one) => saidChoices(one, looks));
  if ("not" in condition) {
    const { not: inner } = condition;
    if ("eq" in inner || "in" in inner) return saidChosen(inner, looks, "not_in");
    return t("fields.said.not", { condition: saidChoices(inner, looks) });
  }
  return saidChosen(condition, looks, "in");
}

function saidChosen(
  condition: { eq: [string, string] } | { in: [string, string[]] },
  looks: Look[],
  word: "in" | "not_in",
) {
  const [id, keys] = "eq" in condition ? [condition.eq[0], [condition.eq[1]]] : condition.in;
  const look = looks.find((one) => one.id === id);
  const titles = keys.map((key) => look?.choices.find((one) => one.key === key)?.title ?? key);
  const value = titles.join(` ${t("fields.said.or")} `);
  return t(`fields.said.${word}`, { what: look?.title ?? id, value });
}

/** Limits in one line. */
export function saidBand(
  band: Band | undefined,
  place: Pick<Place, "known" | "readings">,
  quantity = "",
): string {
  if (!band) return t("fields.said.no_limits");
  const unit = isQuantity(quantity) ? RULES[quantity].unit : "";
  if ("along" in band) {
    const reading = place.readings.find((one) => one.id === band.along)?.title ?? band.along;
    return t("fields.said.along", { reading, points: saidSource(band.points, place, unit) });
  }
  const ends = (["low", "high", "nominal"] as const).filter((end) => band[end] != null);
  return ends.map((end) => t(`fields.said.${end}`, { value: saidSource(band[end], place, unit) })).join(", ");
}

export function saidLoop(loop: Loop, place: Knows): string {
  return t("fields.said.loop", { list: titleOf(place.known, loop.over), max: loop.max });
}
