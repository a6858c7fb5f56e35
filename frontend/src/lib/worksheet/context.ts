import type { EntryKind, Meter, Pack } from "$lib/api/work-shapes";
import type { ShrunkPhoto } from "$lib/photos/shrink";
import { readMeta, writeMeta } from "$lib/db/open";
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

/** Meters that may be used for a step, those in calibration first. */
export function usableMeters(meters: Meter[], kinds: string[] | undefined, quantity: string): Meter[] {
  const fits = (meter: Meter) =>
    kinds?.length
      ? meter.kinds.some((kind) => kinds.includes(kind))
      : meter.accuracy.some((a) => a.quantity === quantity);
  const rank = { ok: 0, unknown: 1, overdue: 2 };
  return meters.filter(fits).sort((a, b) => rank[a.state] - rank[b.state]);
}

export function rememberedMeter(quantity: string): Promise<string | undefined> {
  return readMeta<string>(`meter/${quantity}`);
}

export function rememberMeter(quantity: string, id: string): Promise<void> {
  return writeMeta(`meter/${quantity}`, id);
}
