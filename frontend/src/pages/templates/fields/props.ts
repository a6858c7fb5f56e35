import type { Step } from "$lib/templates/body";
import type { Problem } from "$lib/templates/problems";
import type { Place } from "$lib/templates/sources";

/** What every form of a step takes: the step, what can be named there, what is wrong in it, and where a change goes. */
export interface StepFormProps {
  step: Step;
  place: Place;
  problems: Problem[];
  onchange: (step: Step) => void;
}
