// Likely slips of a prefix: 65 typed where 65 mV was read. A hint beside the reading; it judges and stops nothing.
import type { Limits } from "./judge";
import { PREFIX_POWER, RULES, type Quantity } from "./quantities";
import { formatReading, plainDecimal } from "./readings";

/** Nearer to its limits than this factor a reading is wrong by itself, and no prefix was forgotten. */
const FAR = 20;
const STEPS = [-3, 3, -6, 6];

/** What was probably meant, as it is typed (`65 mV`); null where nothing speaks for a slip. All in the SI unit. */
export function meantInstead(si: number, { low, high }: Limits, quantity: Quantity): string | null {
  if (si === 0 || !isFar(si, low, high)) return null;
  const { prefixes, lowest, highest } = RULES[quantity];
  if (!prefixes) return null;
  const isIn = (value: number) => value >= (low ?? lowest) && value <= (high ?? highest);
  const power = STEPS.find((one) => isIn(si * 10 ** one));
  return power === undefined ? null : formatReading(plainDecimal(rounded(si * 10 ** power)), quantity);
}

function isFar(si: number, low: number | null, high: number | null): boolean {
  const [size, ends] = [Math.abs(si), [low, high].filter((one) => one !== null).map(Math.abs)];
  const [least, most] = [Math.min(...ends), Math.max(...ends)];
  if (!ends.length || (si >= (low ?? -Infinity) && si <= (high ?? Infinity))) return false;
  return size >= FAR * most || size <= least / FAR;
}

/** 0.1 + 0.2 is no reading: fifteen digits are what a double holds. */
const rounded = (value: number) => Number(value.toPrecision(15));

/** The prefix in which readings of these limits are usually written; empty: the plain unit. */
export function usualPrefix({ low, high }: Limits, quantity: Quantity): string {
  const end = Math.max(...[low, high].filter((one) => one !== null).map(Math.abs), 0);
  if (!end) return "";
  const power = Math.log10(end);
  const fitting = ["", ...RULES[quantity].prefixes].filter((one) => (PREFIX_POWER[one] ?? 0) <= power + 1e-9);
  return fitting.sort((a, b) => (PREFIX_POWER[b] ?? 0) - (PREFIX_POWER[a] ?? 0))[0] ?? "";
}
