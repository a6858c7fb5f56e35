import type { StepState } from "./state";

/** A run of steps of one group, short enough to be drawn within one picture. */
export interface Part {
  /** The group, where the run begins it; else null. */
  title: string | null;
  steps: StepState[];
}
const LONGEST = 8;

/** The steps in runs: a new one with each group, and after eight steps. */
export function partsOf(steps: StepState[]): Part[] {
  const parts: Part[] = [];
  let group: string | null = null;
  for (const one of steps) {
    const isNew = one.step.group !== group;
    const last = parts.at(-1);
    if (!last || isNew || last.steps.length === LONGEST)
      parts.push({ title: isNew && one.step.group ? one.step.group : null, steps: [one] });
    else last.steps.push(one);
    group = one.step.group;
  }
  return parts;
}
