import type { StepContext } from "$lib/worksheet/context";
import type { StepState } from "$lib/worksheet/state";

/** What each kind of step gets. `reason` is given when what stands is being corrected. */
export interface StepProps {
  context: StepContext;
  one: StepState;
  /** Why saving cannot be done yet (a correction without its reason); null when it can. */
  blocked: string | null;
}
