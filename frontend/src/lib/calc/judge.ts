// The twin of shop/calc/judging.py: IEEE doubles, the same order of operations, the same tables of cases.
import type { AlongBand, Rule } from "$lib/api/work-shapes";
import { BadInput } from "./bad-input";

const SQRT_3 = 1.7320508075688772;

export type Verdict = "pass" | "fail" | "borderline" | "meter_not_good_enough" | "not_judged";
export interface Limits {
  low: number | null;
  high: number | null;
}
/** A meter's accuracy on the range in use: ±(per cent of reading + counts × resolution). */
export interface MeterAccuracy {
  percent: number;
  counts: number;
  resolution: number;
}

/** Largest error of a reading by the meter's specification, in the unit of the reading. */
export function meterLimit(value: number, accuracy: MeterAccuracy): number {
  finite("value", value);
  return (Math.abs(value) * accuracy.percent) / 100.0 + accuracy.counts * accuracy.resolution;
}

/** U with k = 2, in the unit of the reading (JCGM 100:2008, 4.3.7 and 6.2.1). */
export function expandedUncertainty(value: number, accuracy: MeterAccuracy): number {
  return 2.0 * (meterLimit(value, accuracy) / SQRT_3);
}

/** The verdict on one reading; all in the unit of the reading. Throws BadInput. */
export function judge(value: number, { low, high }: Limits, uncertainty: number, rule: Rule): Verdict {
  finite("value", value);
  usable(low, high, uncertainty);
  if (low === null && high === null) return "not_judged";
  return compare(value, low ?? -Infinity, high ?? Infinity, rule === "simple" ? 0.0 : uncertainty, rule);
}

function compare(value: number, low: number, high: number, w: number, rule: Rule): Verdict {
  const beyond = value < low - w || value > high + w;
  if (low + w > high - w) return beyond ? "fail" : "meter_not_good_enough";
  if (low + w <= value && value <= high - w) return "pass";
  const outside = value < low || value > high;
  return beyond || (outside && rule !== "non_binary") ? "fail" : "borderline";
}

/** The verdict on "over range": all that is known is that the value is above `rangeEnd`. */
export function judgeOverRange(rangeEnd: number | null, { low, high }: Limits): Verdict {
  if (rangeEnd === null) return "not_judged";
  finite("range_end", rangeEnd);
  usable(low, high, 0.0);
  if (high !== null) return rangeEnd >= high ? "fail" : "not_judged";
  return low !== null && rangeEnd >= low ? "pass" : "not_judged";
}

/** The band at `x` along another reading; null where the points say nothing. Throws BadInput. */
export function bandAt(points: AlongBand["points"], x: number): Limits | null {
  finite("x", x);
  rising(points);
  for (const [at, low, high] of points) if (at === x) return { low, high };
  for (let i = 1; i < points.length; i++) {
    const [before, after] = [points[i - 1], points[i]];
    if (!before || !after || !(before[0] < x && x < after[0])) continue;
    const t = (x - before[0]) / (after[0] - before[0]);
    return { low: between(before[1], after[1], t), high: between(before[2], after[2], t) };
  }
  return null;
}

function between(start: number | null, end: number | null, t: number): number | null {
  return start === null || end === null ? null : start + (end - start) * t;
}

function rising(points: AlongBand["points"]): void {
  points.forEach(([at, low, high], index) => {
    finite(`points[${String(index)}][0]`, at);
    usable(low, high, 0.0);
    const before = points[index - 1];
    if (before && at <= before[0]) throw new BadInput(`points[${String(index)}][0]`, "points_not_rising");
  });
}

function finite(field: string, value: number): void {
  if (!Number.isFinite(value)) throw new BadInput(field, "not_finite");
}

function usable(low: number | null, high: number | null, uncertainty: number): void {
  if (low !== null) finite("low", low);
  if (high !== null) finite("high", high);
  finite("expanded_uncertainty", uncertainty);
  if (uncertainty < 0) throw new BadInput("expanded_uncertainty", "negative");
  if (low !== null && high !== null && low > high) throw new BadInput("low", "limits_crossed");
}
