// The entries of a record in order, each with its step, what it corrects and by what it was corrected.
import type { Entry, Pack, Step } from "$lib/api/work-shapes";

export interface MeterState {
  name: string;
  code: string;
  due_on: string | null;
  state: "ok" | "overdue" | "unknown";
}
export interface JudgedAs {
  low: number | null;
  high: number | null;
  rule: "simple" | "guarded" | "non_binary";
  expanded_uncertainty: number | null;
}
export interface RecordEntry extends Entry {
  meter_state?: MeterState | null;
}
export interface Line {
  entry: RecordEntry;
  step: Step | undefined;
  title: string;
  /** The entry that this one replaced, and the one that replaced it. */
  corrects: Entry | undefined;
  correctedBy: Entry | undefined;
  judged: JudgedAs | undefined;
}

export function recordLines(entries: RecordEntry[], pack: Pack): Line[] {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const replacedBy = new Map(entries.map((entry) => [entry.replaces, entry]));
  const steps = new Map(pack.steps.map((step) => [step.id, step]));
  return entries.map((entry) => {
    const step = steps.get(entry.step?.split("/")[0] ?? "");
    return {
      entry,
      step,
      title: titleOf(entry, step),
      corrects: entry.replaces === null ? undefined : byId.get(entry.replaces),
      correctedBy: replacedBy.get(entry.id),
      judged: entry.value["judged"] as JudgedAs | undefined,
    };
  });
}

/** The step's title; in a table or ramp with the column and row that were read. */
function titleOf(entry: Entry, step: Step | undefined): string {
  const [name, at, key] = entry.step?.split("/") ?? [];
  const column = step?.columns?.find((one) => one.key === key);
  const row = step?.rows?.find((one) => one.id === at);
  if (!step || !column || !row) return step?.title ?? name ?? "";
  const setting = row.set_volt === null ? `${String(row.set_percent ?? "")} %` : `${String(row.set_volt)} V`;
  return `${step.title}: ${column.title}, ${row.title ?? setting}`;
}
