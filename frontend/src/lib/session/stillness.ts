import { notify } from "$lib/components/notices.svelte";
import { timers } from "$lib/worksheet/timers.svelte";
import "$lib/words/lock";
import { t } from "$lib/words";
import { closeLock, lock } from "./lock.svelte";
import { session } from "./session.svelte";

/** Shared by the tabs: who works in one does not leave the other. */
const TOUCHED = "lampledger-touched";
const NOTE_EVERY_MS = 1_000;
const TICK_MS = 1_000;
export const WARN_SECONDS = 30;

/** Times in milliseconds since 1970. */
export interface Stillness {
  now: number;
  touched: number;
  /** When the last timer of a step rings or rang; 0: none. */
  lastRing: number;
  minutes: number;
  reachable: boolean;
}

/** Seconds until the phone locks by itself; null: not as things are. It never locks on somebody who waits for a timer
 *  with both hands full, nor where the server is out of reach and could not let them in again. */
export function secondsToLock({ now, touched, lastRing, minutes, reachable }: Stillness): number | null {
  if (!minutes || !reachable || lastRing > now) return null;
  return Math.ceil((Math.max(touched, lastRing) - now) / 1000 + minutes * 60);
}

let noted = 0;
function touch(): void {
  const now = Date.now();
  if (now - noted < NOTE_EVERY_MS) return;
  noted = now;
  localStorage.setItem(TOUCHED, String(now));
}

function lastRing(): number {
  const rings = timers.running.map((timer) => Date.parse(timer.started_at) + timer.seconds * 1000);
  return Math.max(0, ...rings);
}

let warned = false;
function look(): void {
  if (lock.closed || !session.me) return;
  const left = secondsToLock({
    now: Date.now(),
    touched: Number(localStorage.getItem(TOUCHED) ?? 0),
    lastRing: lastRing(),
    minutes: lock.minutes,
    reachable: session.reachable,
  });
  const soon = left !== null && left <= WARN_SECONDS;
  if (left !== null && left <= 0) closeLock();
  else if (soon && !warned) notify(t("lock.soon"), "said", WARN_SECONDS * 1000);
  warned = soon;
}

let watching = false;
/** Begins to watch whether anybody touches this phone; a second call does nothing. */
export function watchStillness(): void {
  if (watching) return;
  watching = true;
  if (!localStorage.getItem(TOUCHED)) touch();
  for (const sign of ["pointerdown", "keydown", "input", "wheel"])
    addEventListener(sign, touch, { passive: true, capture: true });
  setInterval(look, TICK_MS);
  // A phone that slept is looked at before anything is read from it.
  document.addEventListener("visibilitychange", look);
}
