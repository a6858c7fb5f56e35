import { readMeta, writeMeta } from "$lib/db/open";
import { ring } from "$lib/device/ring";
import { momentOf } from "./clock";

/** A timer of a step. Only the time it began is kept, so a locked phone or a reload does not stop it. */
export interface RunningTimer {
  worksheet: string;
  step: string;
  title: string;
  started_at: string;
  seconds: number;
  ring: boolean;
  rung: boolean;
}

export const timers = $state({ running: [] as RunningTimer[], now: Date.now() });
let ticking: ReturnType<typeof setInterval> | undefined;

export function secondsLeft(timer: RunningTimer, now = timers.now): number {
  const end = Date.parse(timer.started_at) + timer.seconds * 1000;
  return Math.max(0, Math.ceil((end - now) / 1000));
}

function keep(): Promise<void> {
  return writeMeta("timers", JSON.parse(JSON.stringify(timers.running)));
}

function tick(): void {
  timers.now = Date.now();
  for (const timer of timers.running) {
    if (timer.rung || secondsLeft(timer) > 0) continue;
    timer.rung = true;
    if (timer.ring) ring();
    void keep();
  }
  if (!timers.running.length) clearInterval(ticking);
}

function watch(): void {
  clearInterval(ticking);
  if (timers.running.length) ticking = setInterval(tick, 500);
}

/** Takes up the timers that ran when the app was closed. */
export async function resumeTimers(): Promise<void> {
  timers.running = (await readMeta<RunningTimer[]>("timers")) ?? [];
  tick();
  watch();
}

export async function startTimer(timer: Omit<RunningTimer, "started_at" | "rung">): Promise<void> {
  timers.now = Date.now();
  const started_at = momentOf(timers.now);
  timers.running = [...timers.running, { ...timer, started_at, rung: false }];
  await keep();
  watch();
}

export async function dropTimer(worksheet: string, step: string): Promise<void> {
  timers.running = timers.running.filter((one) => one.worksheet !== worksheet || one.step !== step);
  await keep();
}

export function timerOf(worksheet: string, step: string): RunningTimer | undefined {
  return timers.running.find((one) => one.worksheet === worksheet && one.step === step);
}
