/** A phone's clock may be a little off; beyond this the times of a record puzzle whoever reads it. */
const OFF_MS = 3 * 60 * 1000;

/** How far this phone's clock is ahead of the shop's, in milliseconds; null while it is not, or nobody knows. */
export const clock = $state({ ahead: null as number | null });

/** Takes in the time at the shop that an answer carried; `began`: when it was asked, by this phone's clock. The way
 *  there and back is halved. */
export function noteServerTime(said: string | null | undefined, began: number, now = Date.now()): void {
  const ahead = (began + now) / 2 - Date.parse(said ?? "");
  if (Number.isNaN(ahead)) return;
  clock.ahead = Math.abs(ahead) > OFF_MS ? Math.round(ahead) : null;
}
