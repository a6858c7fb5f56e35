import type { StepContext } from "$lib/worksheet/context";
import type { StepState } from "$lib/worksheet/state";

/** What each kind of step gets. */
export interface StepProps {
  context: StepContext;
  one: StepState;
  /** Why saving cannot be done yet (a correction without its reason); null when it can. */
  blocked: string | null;
  /** What was typed before, when it is put right. */
  typed?: string;
  /** The step or cell whose last entry is being undone. */
  undoing?: string | null;
}
