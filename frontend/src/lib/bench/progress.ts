import type { Id } from "$lib/api/shapes";
import { nextStep, worksheetState } from "$lib/worksheet/state";
import { keptWorksheet } from "$lib/worksheet/store";
import type { SheetProgress } from "./shapes";

export const NOTHING_KEPT: ReadonlyMap<Id, SheetProgress> = new Map();

/** How far these worksheets have come on this phone, unsent entries too; those it does not hold are left out. */
export async function keptProgress(ids: readonly Id[]): Promise<Map<Id, SheetProgress>> {
  const found = await Promise.all(ids.map((id) => progressOf(id)));
  return new Map(found.filter((one) => one !== null).map((one) => [one.id, one]));
}

async function progressOf(id: Id): Promise<SheetProgress | null> {
  const kept = await keptWorksheet(id);
  if (!kept) return null;
  const state = worksheetState(kept.pack, kept.entries);
  const { title, repair } = kept.row;
  const next = nextStep(state, null)?.step.title ?? null;
  return { id, repair, title, done: state.settled, of: state.required, failed: state.failed.length, next };
}
