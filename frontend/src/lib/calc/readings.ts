// The twin of shop/calc/readings.py: both run tests/vectors/readings.json. The rules are told there.
import { BadInput } from "./bad-input";
import { canonical, decimalsOf, powerOf, shifted, significant, times } from "./decimals";
import { PREFIX_POWER, RULES, type Quantity, type QuantityRule } from "./quantities";

const LONGEST = 40;
const MOST_DIGITS = 15;
const MOST_DECIMALS = 30;
const OVER_RANGE = new Set(["ol", "o.l", "o.l.", "0l", "0.l", "over", "overrange", "overload"]);
const NOT_MEASURED = new Set(["notmeasured", "n/m", "nm", "-", "--", "---"]);
const SPACE = /[ \t\r\n\u00a0\u2009\u202f]+/g;
const PLAIN = /^([0-9]*)([.,]?)([0-9]*)(?:[eE]([+-]?[0-9]{1,2}))?(.*)$/s;
const INFIX = /^([0-9]*)([A-Za-z])([0-9]+) ?([A-Za-z]*)$/;
const SAME: Record<string, string> = {
  "\u00b5": "u",
  "\u03bc": "u",
  "\u03a9": "ohm",
  "\u2126": "ohm",
  "\u2212": "-",
  "\u2103": "°C",
};

export interface Reading {
  state: "value" | "over_range" | "not_measured";
  unit: string;
  /** For people: `160 mA`. */
  shown: string;
  /** Exact and canonical, in `unit`; null when there is no number. */
  text: string | null;
  si: number | null;
}

/** Reads what a tech typed for a known quantity. Throws BadInput with the reason's code. */
export function parseReading(typed: string, quantity: Quantity, field = "typed"): Reading {
  const rule = RULES[quantity];
  const text = tidy(typed, field);
  const word = text.replace(SPACE, "").toLowerCase();
  if (OVER_RANGE.has(word)) return noNumber("over_range", rule);
  if (NOT_MEASURED.has(word)) return noNumber("not_measured", rule);
  const exact = within(exactOf(text, rule, field), quantity, field);
  return {
    state: "value",
    unit: rule.unit,
    shown: formatReading(exact, quantity),
    text: exact,
    si: Number(exact),
  };
}

/** The same for any rule, without its limits: the exact text in the rule's own unit. Throws BadInput. */
export function parseByRule(typed: string, rule: QuantityRule, field = "typed"): string {
  return exactOf(tidy(typed, field), rule, field);
}

function exactOf(text: string, rule: QuantityRule, field: string): string {
  const sign = text.startsWith("-") ? "-" : "";
  const body = sign ? text.slice(1) : text.replace(/^\+/, "");
  return canonical(sign + (infix(body, rule, field) ?? plain(body.trimStart(), rule, field)));
}

function noNumber(state: "over_range" | "not_measured", rule: QuantityRule): Reading {
  return { state, unit: rule.unit, shown: state.replace("_", " "), text: null, si: null };
}

function tidy(typed: string, field: string): string {
  let text = typed.replace(SPACE, " ").replace(/^ +| +$/g, "");
  if (!text) throw new BadInput(field, "empty");
  if ([...text].length > LONGEST) throw new BadInput(field, "too_long", { longest: LONGEST });
  for (const [sign, same] of Object.entries(SAME)) text = text.replaceAll(sign, same);
  return text;
}

/** `4k7`, `2R2`, `u47`, `2A5`: a letter stands for the decimal point. */
function infix(body: string, rule: QuantityRule, field: string): string | null {
  const [, whole = "", letter = "", fraction = "", unit = ""] = INFIX.exec(body.trim()) ?? [];
  if (!letter || letter === "e" || letter === "E") return null;
  if (unit && word(rule, unit) !== 1) throw wrongUnit(unit, rule, field);
  const power = own(rule.marks, letter) ?? prefixPower(letter, rule, field, unit !== "");
  withinDigits(whole + fraction, field);
  return shifted(`${whole || "0"}.${fraction}`, power);
}

/** A number, then perhaps a power of ten, a prefix, a unit. */
function plain(body: string, rule: QuantityRule, field: string): string {
  const [, whole = "", separator = "", fraction = "", power = "0", tail = ""] = PLAIN.exec(body) ?? [];
  if (!whole && !fraction) throw new BadInput(field, "not_a_number", { typed: body });
  const parted = separator === "," && likeThousands(whole, fraction);
  if (/^[.,]/.test(tail) || parted) throw new BadInput(field, "ambiguous_separator", { typed: body });
  withinDigits(whole + fraction, field);
  const number = shifted(`${whole || "0"}.${fraction || "0"}`, Number(power));
  return withUnit(number, tail.replaceAll(" ", ""), rule, field);
}

function likeThousands(whole: string, fraction: string): boolean {
  return fraction.length === 3 && whole.length >= 1 && whole.length <= 3 && !whole.startsWith("0");
}

function withUnit(number: string, tail: string, rule: QuantityRule, field: string): string {
  if (!tail) return number;
  const factor = word(rule, tail);
  if (factor !== undefined) return times(number, factor);
  const mark = own(rule.marks, tail);
  if (mark !== undefined) return shifted(number, mark);
  const [prefix = "", ...rest] = tail;
  const unit = rest.join("");
  if (unit && word(rule, unit) !== 1) throw wrongUnit(tail, rule, field);
  return shifted(number, prefixPower(prefix, rule, field, unit !== ""));
}

/** The power of ten of a prefix, or why it cannot stand here. */
function prefixPower(letter: string, rule: QuantityRule, field: string, hasUnit: boolean): number {
  const prefix = letter === "K" ? "k" : letter;
  const power = own(PREFIX_POWER, prefix);
  if (power === undefined) throw wrongUnit(letter, rule, field);
  if (!rule.prefixes.includes(prefix))
    throw new BadInput(field, "prefix_not_usable", { typed: letter, unit: rule.symbol });
  if (prefix === "m" && !hasUnit && rule.unit === "ohm") throw new BadInput(field, "milli_or_mega");
  if (prefix === "m" && !hasUnit && rule.unit === "s") throw new BadInput(field, "milli_or_minutes");
  return power;
}

/** Refuses what cannot be: negative ohms, half a count, a million volts. */
function within(text: string, quantity: Quantity, field: string): string {
  const { lowest, highest, symbol } = RULES[quantity];
  const values = { typed: text, lowest, highest, unit: symbol };
  if (decimalsOf(text) > MOST_DECIMALS) throw new BadInput(field, "too_many_digits", values);
  if (quantity === "count" && decimalsOf(text)) throw new BadInput(field, "not_whole");
  if (text.startsWith("-") && lowest === 0) throw new BadInput(field, "negative", values);
  if (Number(text) < lowest) throw new BadInput(field, "below_range", values);
  if (Number(text) > highest) throw new BadInput(field, "above_range", values);
  return text;
}

function withinDigits(digits: string, field: string): void {
  if (digits.replace(/^0+|0+$/g, "").length > MOST_DIGITS) throw new BadInput(field, "too_many_digits");
}

function own(table: Record<string, number>, key: string): number | undefined {
  return Object.hasOwn(table, key) ? table[key] : undefined;
}

function word(rule: QuantityRule, typed: string): number | undefined {
  return own(rule.words, typed.toLowerCase());
}

function wrongUnit(typed: string, rule: QuantityRule, field: string): BadInput {
  if (/[0-9]/.test(typed)) return new BadInput(field, "not_a_number", { typed });
  return new BadInput(field, rule.symbol ? "wrong_unit" : "unit_not_wanted", { typed, unit: rule.symbol });
}

/** A canonical text with prefix and unit: `0.16` is `160 mA`. `digits`: significant digits; all when left out. */
export function formatReading(text: string, quantity: Quantity, digits?: number): string {
  return formatByRule(text, RULES[quantity], digits);
}

/** The same for any rule. */
export function formatByRule(
  text: string,
  rule: Pick<QuantityRule, "prefixes" | "symbol">,
  digits?: number,
): string {
  const exact = digits ? significant(text, digits) : text;
  const prefix = bestPrefix(exact, rule.prefixes);
  const number = shifted(exact, -(PREFIX_POWER[prefix] ?? 0));
  return `${number} ${prefix === "u" ? "µ" : prefix}${rule.symbol}`.trim();
}

/** The prefix that leaves one to three digits before the point, as far as there is one. */
function bestPrefix(text: string, prefixes: string): string {
  if (!prefixes || text === "0") return "";
  const powerFor = (prefix: string) => PREFIX_POWER[prefix] ?? 0;
  const fitting = ["", ...prefixes].sort((a, b) => powerFor(a) - powerFor(b));
  const power = powerOf(text);
  return fitting.filter((prefix) => powerFor(prefix) <= power).at(-1) ?? fitting[0] ?? "";
}

/** A limit or a tick: four significant digits, prefixed for the unit the server names (`A`, `ohm`, `V` …). */
export function formatValue(value: number, unit: string): string {
  if (!Number.isFinite(value)) return "–";
  const rule = Object.values(RULES).find((one) => one.unit === unit || one.symbol === unit);
  const text = significant(plainDecimal(value), 4);
  return formatByRule(text, rule ?? { prefixes: "", symbol: unit });
}

/** Long whole numbers in groups of three, apart by thin spaces that do not break the line. */
export function grouped(text: string): string {
  const [whole = "", ...rest] = text.split(".");
  const apart = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202F") : whole;
  return [apart, ...rest].join(".");
}

/** A double without an exponent. */
export function plainDecimal(value: number): string {
  const [number = "0", power] = value.toString().split("e");
  return power ? shifted(number, Number(power)) : number;
}
