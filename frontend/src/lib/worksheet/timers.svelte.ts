import { readMeta, writeMeta } from "$lib/db/open";
import {
  askToNotify,
  closeNotification,
  ring,
  showNotification,
  unlockSound,
  unlockSoundOnTouch,
} from "$lib/device/ring";
import { t } from "$lib/words";
import { momentOf } from "./clock";

/** A timer of a step. Only the time it began is kept, so a locked phone or a reload does not stop it. */
export interface RunningTimer {
  worksheet: string;
  step: string;
  title: string;
  started_at: string;
  seconds: number;
  ring: boolean;
  /** It has rung, or was silenced. */
  rung: boolean;
  /** Still rings, again and again, until somebody silences it. */
  ringing?: boolean;
}

/** Rings this often (ms), and no longer than this after its time (s): an empty bench needs no alarm for an hour. */
const RING_EVERY = 4000;
const RING_FOR = 120;
/** A clock set back by less than this (ms) is only corrected a little. */
const SET_BACK = 1500;

export const timers = $state({ running: [] as RunningTimer[], now: Date.now() });
let ticking: ReturnType<typeof setInterval> | undefined;
let rangAt = 0;

/** Seconds since the time was up; below zero while it runs. */
function secondsOver(timer: RunningTimer, now: number): number {
  return (now - Date.parse(timer.started_at)) / 1000 - timer.seconds;
}

export function secondsLeft(timer: RunningTimer, now = timers.now): number {
  return Math.max(0, Math.ceil(-secondsOver(timer, now)));
}

export function secondsLate(timer: RunningTimer, now = timers.now): number {
  return Math.max(0, Math.floor(secondsOver(timer, now)));
}

/** Where a timer is worked on. */
export function addressOf(timer: Pick<RunningTimer, "worksheet" | "step">): string {
  return `/app/worksheets/${timer.worksheet}?step=${encodeURIComponent(timer.step)}`;
}

function keep(): Promise<void> {
  return writeMeta("timers", JSON.parse(JSON.stringify(timers.running)));
}

/** A clock that was set back must not lengthen a wait, nor make the time between its ends too short: its beginning goes
 *  back as well. One set forward cannot be told from a phone that slept. */
function mendClock(now: number): boolean {
  const back = timers.now - now;
  if (back < SET_BACK) return false;
  for (const timer of timers.running) timer.started_at = momentOf(Date.parse(timer.started_at) - back);
  return timers.running.length > 0;
}

function tick(): void {
  const now = Date.now();
  let changed = mendClock(now);
  timers.now = now;
  for (const timer of timers.running) {
    if (timer.rung || secondsLeft(timer) > 0) continue;
    timer.rung = changed = true;
    timer.ringing = timer.ring;
    if (timer.ring && document.visibilityState !== "visible")
      void showNotification(t("timers.over", { title: timer.title }), addressOf(timer));
  }
  for (const timer of timers.running)
    if (timer.ringing && secondsLate(timer) > RING_FOR) changed = !(timer.ringing = false);
  if (timers.running.some((one) => one.ringing) && now - rangAt >= RING_EVERY) {
    rangAt = now;
    ring();
  }
  if (changed) void keep();
  if (!timers.running.length) clearInterval(ticking);
}

function watch(): void {
  clearInterval(ticking);
  if (timers.running.length) ticking = setInterval(tick, 500);
}

/** Takes up the timers that ran when the app was closed. */
export async function resumeTimers(): Promise<void> {
  timers.running = (await readMeta<RunningTimer[]>("timers")) ?? [];
  if (timers.running.length) unlockSoundOnTouch();
  // A page that was held back ticks again when it is seen, and at once.
  document.addEventListener("visibilitychange", tick);
  tick();
  watch();
}

/** Starts a timer in a tap: what may sound and be shown later is asked for in it. */
export async function startTimer(timer: Omit<RunningTimer, "started_at" | "rung">): Promise<void> {
  if (timer.ring) {
    unlockSound();
    askToNotify();
  }
  timers.now = Date.now();
  const started_at = momentOf(timers.now);
  timers.running = [...timers.running, { ...timer, started_at, rung: false }];
  await keep();
  watch();
}

export async function dropTimer(worksheet: string, step: string): Promise<void> {
  const dropped = timerOf(worksheet, step);
  timers.running = timers.running.filter((one) => one !== dropped);
  await keep();
  if (dropped?.rung) await closeNotification(addressOf(dropped));
}

/** Stops the ringing of all; the times stay to be seen. */
export async function silence(): Promise<void> {
  const rang = timers.running.filter((one) => one.ringing);
  for (const timer of rang) timer.ringing = false;
  await keep();
  for (const timer of rang) await closeNotification(addressOf(timer));
}

export function isRinging(): boolean {
  return timers.running.some((one) => one.ringing);
}

export function timerOf(worksheet: string, step: string): RunningTimer | undefined {
  return timers.running.find((one) => one.worksheet === worksheet && one.step === step);
}
