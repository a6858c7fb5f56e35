// Numbers as techs write them, for the units that the schema names.
import { BadInput } from "$lib/calc/bad-input";
import { decimalsOf, shifted } from "$lib/calc/decimals";
import { RULES, type QuantityRule } from "$lib/calc/quantities";
import { formatByRule, parseByRule, plainDecimal } from "$lib/calc/readings";

/** The shape of BadInput's field: the sentences of a calculator speak of a field, not of a step. */
const FIELD = "calculator";
const ANY = { lowest: -Infinity, highest: Infinity, marks: {} };
const OWN: Record<string, QuantityRule> = {
  VA: { ...ANY, unit: "VA", symbol: "VA", prefixes: "mkM", words: { va: 1 } },
  H: { ...ANY, unit: "H", symbol: "H", prefixes: "num", words: { h: 1, henry: 1 }, marks: { H: 0 } },
  m: { ...ANY, unit: "m", symbol: "m", prefixes: "mk", words: { m: 1 } },
};
const BASES = ["V", "A", "Ω", "F", "Hz", "W", "°C", "s", "%"];
const KNOWN: Record<string, QuantityRule> = {
  ...Object.fromEntries(
    Object.values(RULES)
      .filter((rule) => BASES.includes(rule.symbol))
      .map((rule) => [rule.symbol, rule]),
  ),
  ...OWN,
};
/** Units with their prefix built in: a bare number is in them, `4k7` and `0.16 A` are turned into them. */
const SCALED: Record<string, [base: string, power: number]> = {
  mV: ["V", -3],
  kV: ["V", 3],
  mA: ["A", -3],
  µA: ["A", -6],
  kΩ: ["Ω", 3],
  MΩ: ["Ω", 6],
  µF: ["F", -6],
  nF: ["F", -9],
  pF: ["F", -12],
  mH: ["H", -3],
  mm: ["m", -3],
  kW: ["W", 3],
};
const BARE = /^[+-]?[0-9]*[.,]?[0-9]*(?:[eE][+-]?[0-9]{1,2})?$/;

/** How a number is limited; the ends belong to it unless `above` or `below` says otherwise. */
export interface Limits {
  unit: string;
  whole: boolean;
  lowest: number | null;
  highest: number | null;
  above: boolean;
  below: boolean;
}

function ruleFor(unit: string): QuantityRule {
  const word = unit.toLowerCase().replaceAll("µ", "u").replaceAll("Ω", "ohm");
  return KNOWN[unit] ?? { ...ANY, unit, symbol: unit, prefixes: "", words: unit ? { [word]: 1 } : {} };
}

/** The number that was typed, in the field's unit. Throws BadInput with the reason's code. */
export function readNumber(typed: string, limits: Limits): number {
  const text = exactIn(limits.unit, typed.trim().replaceAll("\u2212", "-"));
  if (limits.whole && decimalsOf(text)) throw new BadInput(FIELD, "not_whole");
  return within(Number(text), limits);
}

function exactIn(unit: string, typed: string): string {
  const [base, power] = SCALED[unit] ?? [unit, 0];
  const exact = parseByRule(typed, ruleFor(base), FIELD);
  return power && !BARE.test(typed.replaceAll(/\s/g, "")) ? shifted(exact, -power) : exact;
}

function within(value: number, { unit, lowest, highest, above, below }: Limits): number {
  const tooLow = lowest !== null && (above ? value <= lowest : value < lowest);
  const tooHigh = highest !== null && (below ? value >= highest : value > highest);
  if (tooLow) throw new BadInput(FIELD, above ? "not_above" : "below", { end: showWithUnit(lowest, unit) });
  if (tooHigh) throw new BadInput(FIELD, below ? "not_below" : "above", { end: showWithUnit(highest, unit) });
  return value;
}

/** A number as a tech would type it into a field of this unit: `160 mA`, or `230` where the unit stands beside it. */
export function showNumber(value: number, unit: string): string {
  const full = showWithUnit(value, unit);
  return full.endsWith(` ${unit}`) ? full.slice(0, -unit.length - 1) : full;
}

/** Every digit of a number, with its unit and the prefix that suits: `160 mA`. */
export function showWithUnit(value: number, unit: string): string {
  const text = plainDecimal(value);
  const rule = KNOWN[unit];
  if (!rule) return `${text} ${unit}`.trim();
  // The trade writes 4700 µF, never 4.7 mF, which some read as µF.
  return formatByRule(text, unit === "F" ? { ...rule, prefixes: rule.prefixes.replace("m", "") } : rule);
}
