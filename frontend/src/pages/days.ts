/** A day some days from now in ISO form, on the viewer's own calendar. */
export function dayFrom(now: Date, days: number): string {
  const day = new Date(now.getFullYear(), now.getMonth(), now.getDate() + days, 12);
  const parts = [day.getFullYear(), day.getMonth() + 1, day.getDate()];
  return parts.map((part) => String(part).padStart(2, "0")).join("-");
}

/** Nothing is left to do at the bench: they wait for the customer or the desk, or have left. */
export const OFF_THE_BENCH = new Set([
  "ready",
  "declined",
  "beyond_repair",
  "unclaimed",
  "handed_back",
  "disposed",
]);

/** Whether the promised day is past while the shop still has something to do. */
export function isLate(row: { due_on: string | null; stage: string }, now = new Date()): boolean {
  return !!row.due_on && row.due_on < dayFrom(now, 0) && !OFF_THE_BENCH.has(row.stage);
}
