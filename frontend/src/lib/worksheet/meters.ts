import type { Meter } from "$lib/api/work-shapes";
import { readMeta, writeMeta } from "$lib/db/open";
import { isFull } from "$lib/db/room";

type MeterState = Meter["state"];
const RANK: Record<MeterState, number> = { ok: 0, unknown: 1, overdue: 2 };

/** Whether a meter's calibration holds on a day (ISO date, today when left out): its pack may be older than that. */
export function stateOn(meter: Meter, day = today()): MeterState {
  if (meter.due_on === null) return "unknown";
  return meter.due_on < day ? "overdue" : "ok";
}

function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${String(now.getFullYear())}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** Meters that can read what a step asks for, those in calibration first, the overdue last. */
export function usableMeters(meters: Meter[], kinds: string[] | undefined, quantity: string): Meter[] {
  const fits = (meter: Meter) =>
    kinds?.length
      ? meter.kinds.some((kind) => kinds.includes(kind))
      : meter.accuracy.some((a) => a.quantity === quantity);
  return meters.filter(fits).sort((a, b) => RANK[stateOn(a)] - RANK[stateOn(b)]);
}

/** The meter to begin with: the one used last for this, unless it is overdue; then the first that may be used. */
export function firstChoice(
  usable: Meter[],
  remembered: string | undefined,
  forbidsOverdue: boolean,
): string {
  const before = usable.find((one) => one.id === remembered);
  if (before && stateOn(before) !== "overdue") return before.id;
  const first = usable[0];
  return first && !(forbidsOverdue && stateOn(first) === "overdue") ? first.id : "";
}

export function rememberedMeter(quantity: string): Promise<string | undefined> {
  return readMeta<string>(`meter/${quantity}`);
}

/** A convenience only: a phone without room forgets it, and says so of the reading that does not fit. */
export function rememberMeter(quantity: string, id: string): Promise<void> {
  return writeMeta(`meter/${quantity}`, id).catch((error: unknown) => {
    if (!isFull(error)) throw error;
  });
}
