import { expect, test } from "vitest";
import { secondsToLock, type Stillness } from "$lib/session/stillness";

const NOW = Date.parse("2026-03-02T09:00:00Z");
const minutesAgo = (minutes: number) => NOW - minutes * 60_000;
const still = (more: Partial<Stillness> = {}): Stillness => ({
  now: NOW,
  touched: minutesAgo(3),
  lastRing: 0,
  minutes: 5,
  reachable: true,
  ...more,
});

test("it locks when nobody has touched it for as long as was chosen", () => {
  expect(secondsToLock(still())).toBe(120);
  expect(secondsToLock(still({ touched: minutesAgo(5) }))).toBe(0);
  expect(secondsToLock(still({ touched: minutesAgo(200) }))).toBeLessThan(0);
});

test("it never locks by itself where nobody chose so", () => {
  expect(secondsToLock(still({ minutes: 0, touched: minutesAgo(9999) }))).toBeNull();
});

test("it does not lock where the server that would open it is out of reach", () => {
  expect(secondsToLock(still({ reachable: false, touched: minutesAgo(60) }))).toBeNull();
});

test("it does not lock on who waits for a timer, and begins to count when that rang", () => {
  const touched = minutesAgo(60);

  expect(secondsToLock(still({ touched, lastRing: NOW + 1 }))).toBeNull();
  expect(secondsToLock(still({ touched, lastRing: minutesAgo(2) }))).toBe(180);
  expect(secondsToLock(still({ touched, lastRing: minutesAgo(30) }))).toBeLessThan(0);
});
