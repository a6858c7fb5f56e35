// Entries are never edited and never taken away, not even unsent ones: undoing one is recording a correction of it.
import type { Entry, EntryKind, StepKind } from "$lib/api/work-shapes";
import type { WordKey } from "$lib/words";
import type { StepState, WorksheetState } from "./state";

/** The kinds of entries that a later one of the same step can put right on the screen. */
const CORRECTABLE = new Set<EntryKind>(["acknowledge", "choice", "reading", "skip", "timer"]);

/** Reasons that are given with one tap, the likeliest first, by what is corrected. */
const REASONS: Partial<Record<EntryKind, WordKey[]>> = {
  reading: ["reason.mistyped", "reason.wrong_probe_point", "reason.meter_set_wrong"],
  choice: ["reason.wrong_tapped", "reason.looked_again"],
  acknowledge: ["reason.too_early"],
  timer: ["reason.too_early"],
  skip: ["reason.done_after_all", "reason.wrong_tapped"],
};

export function reasonsFor(entry: Pick<Entry, "kind">): WordKey[] {
  return REASONS[entry.kind] ?? [];
}

/** What was typed for a reading, to begin its correction with; empty for others. */
export function typedBefore(entry: Pick<Entry, "kind" | "value"> | null): string {
  const typed = entry?.kind === "reading" ? entry.value["as_typed"] : "";
  return typeof typed === "string" ? typed : "";
}

/** What was saved last, as long as it still stands and can be put right; null otherwise. */
export function undoable(
  state: WorksheetState,
  saved: string | null,
): { entry: Entry; on: StepState } | null {
  const entry = saved === null ? undefined : state.byId.get(saved);
  if (!entry?.step || !CORRECTABLE.has(entry.kind)) return null;
  const name = entry.step;
  if (state.standing.get(name)?.at(-1)?.id !== entry.id) return null;
  const on = state.steps.find((one) => one.step.id === name || name.startsWith(`${one.step.id}/`));
  return on && !on.lockedBy ? { entry, on } : null;
}

/** Whether a step shows more entries side by side instead of correcting what stands. */
export function addsMore(kind: StepKind): boolean {
  return kind === "photo" || kind === "note" || kind === "ramp" || kind === "table";
}
