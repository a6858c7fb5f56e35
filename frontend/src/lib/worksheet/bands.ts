import type {
  Accuracy,
  Band,
  Entry,
  GridRow,
  Meter,
  Pack,
  ReadingValue,
  Rule,
  Step,
  Work,
} from "$lib/api/work-shapes";
import {
  bandAt,
  expandedUncertainty,
  judge,
  judgeOverRange,
  meterLimit,
  type Limits,
  type Verdict,
} from "$lib/calc/judge";
import type { Reading } from "$lib/calc/readings";
import { numberOn } from "./effective";

/** How the limits of a step, or of one row of it, were worked out; undefined where nothing was. */
export function workBehind(pack: Pick<Pack, "work">, step: Step, row?: GridRow): Work | undefined {
  const name = row?.limits_from ?? step.limits_from ?? step.work;
  return name ? pack.work[name] : undefined;
}

/** A meter's stated accuracy for a quantity: the first that is named for it. */
export function accuracyFor(meter: Meter | null, quantity: string) {
  return meter?.accuracy.find((one) => one.quantity === quantity) ?? null;
}

/** The limits that hold now. null: they run along a reading that is not there yet, or outside its points. */
export function limitsNow(band: Band | null | undefined, standing: Map<string, Entry[]>): Limits | null {
  if (!band) return { low: null, high: null };
  if (!("along" in band)) return { low: band.low, high: band.high };
  const x = numberOn(standing, band.along);
  return x === null ? null : bandAt(band.points, x);
}

/** What an over-range reading is surely above: the end of the range less the meter's error there. */
function surelyAbove(accuracy: Accuracy | null): number | null {
  const end = accuracy?.range_end;
  return accuracy && end != null ? end - meterLimit(end, accuracy) : null;
}

export interface Judged {
  verdict: Verdict;
  limits: Limits;
  uncertainty: number | null;
}

/** Judges a reading for its limits, rule and meter, exactly as the server will on arrival. */
export function judgeReading(
  reading: Reading,
  limits: Limits | null,
  rule: Rule,
  meter: Meter | null,
  quantity: string,
): Judged {
  const known = limits ?? { low: null, high: null };
  const accuracy = accuracyFor(meter, quantity);
  if (reading.state === "over_range") {
    return { verdict: judgeOverRange(surelyAbove(accuracy), known), limits: known, uncertainty: null };
  }
  if (reading.si === null) return { verdict: "not_judged", limits: known, uncertainty: null };
  const uncertainty = accuracy ? expandedUncertainty(reading.si, accuracy) : null;
  return { verdict: judge(reading.si, known, uncertainty ?? 0, rule), limits: known, uncertainty };
}

/** The value of a reading entry, ready to be recorded. */
export function readingValue(
  typed: string,
  reading: Reading,
  judged: Judged,
  step: Pick<Step, "rule">,
  meter: Meter | null,
  quantity: string,
): ReadingValue {
  return {
    as_typed: typed,
    value_text: reading.text,
    unit: reading.unit,
    state: reading.state === "value" ? "measured" : reading.state,
    meter: meter?.id ?? null,
    low: judged.limits.low,
    high: judged.limits.high,
    rule: step.rule ?? "simple",
    expanded_uncertainty: judged.uncertainty,
    verdict: judged.verdict,
    quantity,
  };
}
