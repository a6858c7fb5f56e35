import type { Pack, Step } from "$lib/api/work-shapes";
import { worksheetState, type StepState } from "$lib/worksheet/state";

/** The steps of a pack that a template's step became: one, one for each turn of a loop, or all of a procedure. */
export function packSteps(pack: Pack, id: string): Step[] {
  const isOf = (step: Step) => step.id === id || step.id.startsWith(`${id}.`) || step.id.startsWith(`${id}-`);
  return pack.steps.filter(isOf);
}

/** The template's step that a step of the pack came from, among those the template has. */
export function sourceOf(step: string, ids: readonly string[]): string | null {
  const isOf = (id: string) => step === id || step.startsWith(`${id}.`) || step.startsWith(`${id}-`);
  return ids.filter(isOf).sort((a, b) => b.length - a.length)[0] ?? null;
}

/** A step as it would be met: nothing done on it yet, nothing before it in the way. */
export function untouched(step: Step): StepState {
  return { step, entries: [], settled: false, skipped: null, lockedBy: null, verdict: null };
}

export const beginningOf = (pack: Pack) => worksheetState(pack, []);
