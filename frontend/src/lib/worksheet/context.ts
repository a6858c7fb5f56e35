import type { EntryKind, Pack } from "$lib/api/work-shapes";
import type { ShrunkPhoto } from "$lib/photos/shrink";
import type { WorksheetState } from "./state";

export interface SaveMore {
  /** Another id than the step's own: a cell of a grid. */
  step?: string;
  verdict?: string | null;
  photo?: ShrunkPhoto;
  replaces?: string | null;
  reason?: string;
}
/** What a step on the screen needs of its worksheet. */
export interface StepContext {
  pack: Pack;
  worksheet: string;
  state: WorksheetState;
  /** Records an entry on the step shown; durable when it returns. */
  save: (kind: EntryKind, value: Record<string, unknown>, more?: SaveMore) => Promise<void>;
  /** In a trial of a template nothing is recorded: pictures, waits and signatures are only pretended. */
  pretends?: boolean;
  /** Fetches the worksheet anew, after something done on the server. */
  reload: () => Promise<void>;
}
