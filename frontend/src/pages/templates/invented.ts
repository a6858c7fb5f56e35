// Readings and answers nobody took: for a trial of a template, in which every step passes.
import type { Entry, EntryKind, GridColumn, Rule, Step } from "$lib/api/work-shapes";
import { judge, type Limits } from "$lib/calc/judge";
import { canonical } from "$lib/calc/decimals";
import { isQuantity, RULES } from "$lib/calc/quantities";
import { limitsNow } from "$lib/worksheet/bands";
import { cellId, cellLimits, isGrid } from "$lib/worksheet/grid";

interface Invented {
  step: string;
  kind: EntryKind;
  value: Record<string, unknown>;
  verdict: string | null;
}
type Standing = Map<string, Entry[]>;
/** Where no limit says how large a value is, it is this many of its unit. */
const ANY = 1;

/** What would be recorded on a step so that it passes. A grid takes one entry per cell. */
export function invented(step: Step, standing: Standing): Invented[] {
  if (isGrid(step)) return cells(step, standing);
  if (step.kind === "reading") {
    const limits = limitsNow(step.band, standing);
    return [reading(step.id, String(step.quantity), limits, step.rule, step.band != null)];
  }
  return [{ step: step.id, verdict: null, ...answer(step) }];
}

function answer(step: Step): Pick<Invented, "kind" | "value"> & { verdict?: string | null } {
  const now = new Date().toISOString();
  switch (step.kind) {
    case "look":
      return choice(step);
    case "photo":
      return { kind: "photo", value: { caption: step.title } };
    case "note":
      return { kind: "note", value: { text: "…" } };
    case "take_part":
      return { kind: "part", value: { part: step.part?.code ?? "", quantity: Number(step.quantity) || 1 } };
    case "timer":
      return { kind: "timer", value: { started_at: now, ended_at: now } };
    case "sign_off":
      return { kind: "sign_off", value: {} };
    default:
      return { kind: "acknowledge", value: {} };
  }
}

function choice(step: Step): ReturnType<typeof answer> {
  const chosen = step.choices?.find((one) => one.verdict === "pass") ?? step.choices?.[0];
  return { kind: "choice", value: { choice: chosen?.key ?? "" }, verdict: chosen?.verdict ?? null };
}

function cells(step: Step, standing: Standing): Invented[] {
  const cell = (row: string, index: number, column: GridColumn) => {
    const limits = cellLimits(step, column, index, standing);
    const id = cellId(step, row, column.key);
    return reading(id, column.quantity, limits, step.rule, column.band != null);
  };
  return (step.rows ?? []).flatMap((row, i) => (step.columns ?? []).map((column) => cell(row.id, i, column)));
}

function reading(
  step: string,
  quantity: string,
  limits: Limits | null,
  rule: Rule = "simple",
  judged: boolean,
): Invented {
  const known = limits ?? { low: null, high: null };
  const si = within(known, quantity);
  const verdict = judged && limits ? judge(si, known, 0, rule) : "not_judged";
  const unit = isQuantity(quantity) ? RULES[quantity].unit : "";
  const text = plain(si);
  const value = { as_typed: text, value_text: text, unit, state: "measured", quantity, meter: null, rule };
  return {
    step,
    kind: "reading",
    value: { ...value, ...known, verdict, expanded_uncertainty: null },
    verdict,
  };
}

/** The middle of the limits, or well inside the one there is. */
function within({ low, high }: Limits, quantity: string): number {
  if (low !== null && high !== null) return (low + high) / 2;
  if (low !== null) return low + Math.max(Math.abs(low), ANY);
  if (high === null) return ANY;
  const lowest = isQuantity(quantity) ? RULES[quantity].lowest : 0;
  return high > lowest && lowest >= 0 ? (high + lowest) / 2 : high - Math.max(Math.abs(high), ANY);
}

/** Without an exponent, as readings are kept. */
function plain(value: number): string {
  const [, exponent = "0"] = value.toExponential().split("e");
  const places = Math.max(0, Math.min(20, 6 - Number(exponent)));
  return canonical(value.toFixed(places));
}
