import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { readMeta, writeMeta } from "$lib/db/open";
import {
  dropTimer,
  isRinging,
  resumeTimers,
  secondsLate,
  secondsLeft,
  silence,
  startTimer,
  timerOf,
  timers,
  type RunningTimer,
} from "$lib/worksheet/timers.svelte";

const WAIT = { worksheet: "w", step: "rest", title: "Let it rest", seconds: 60, ring: true };
const START = new Date("2026-03-02T09:00:00Z");
const shown = () => {
  const timer = timerOf("w", "rest");
  if (!timer) throw new Error("it does not run");
  return timer;
};
const pass = (seconds: number) => vi.advanceTimersByTimeAsync(seconds * 1000);

beforeEach(async () => {
  vi.useFakeTimers({ now: START, toFake: ["Date", "setInterval", "clearInterval"] });
  await writeMeta("timers", []);
  await resumeTimers();
});
afterEach(async () => {
  for (const timer of timers.running) await dropTimer(timer.worksheet, timer.step);
  vi.useRealTimers();
});

test("a timer rings when its time is up and says how long ago that was", async () => {
  await startTimer(WAIT);

  await pass(59);
  expect([secondsLeft(shown()), isRinging()]).toEqual([1, false]);
  await pass(13);

  expect([secondsLeft(shown()), secondsLate(shown()), isRinging()]).toEqual([0, 12, true]);
});

test("one touch silences what rings and leaves the time to be seen", async () => {
  await startTimer(WAIT);
  await pass(61);

  await silence();

  expect(isRinging()).toBe(false);
  await pass(30);
  expect([isRinging(), secondsLate(shown())]).toEqual([false, 31]);
});

test("an alarm that nobody hears ends by itself", async () => {
  await startTimer(WAIT);

  await pass(60 + 125);

  expect(isRinging()).toBe(false);
});

test("a timer that ended while the app was closed rings when it is opened", async () => {
  await startTimer(WAIT);
  await vi.waitFor(async () => expect(await readMeta<RunningTimer[]>("timers")).toHaveLength(1));
  timers.running = [];
  vi.setSystemTime(START.getTime() + 90_000);

  await resumeTimers();

  expect([secondsLate(shown()), isRinging()]).toEqual([30, true]);
});

test("several run at once, each with its own time", async () => {
  await startTimer(WAIT);
  await pass(20);
  await startTimer({ ...WAIT, step: "soak", seconds: 10, ring: false });
  await pass(15);

  expect(timers.running.map((one) => secondsLeft(one))).toEqual([25, 0]);
  expect(isRinging()).toBe(false);
});

test("a clock set back by an hour does not lengthen the wait", async () => {
  await startTimer(WAIT);
  await pass(20);

  vi.setSystemTime(Date.now() - 3_600_000);
  await pass(10);

  expect(secondsLeft(shown())).toBeGreaterThanOrEqual(29);
  expect(secondsLeft(shown())).toBeLessThanOrEqual(31);
});
