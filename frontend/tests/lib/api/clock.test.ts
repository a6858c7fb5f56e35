import { beforeEach, expect, test } from "vitest";
import { clock, noteServerTime } from "$lib/api/clock.svelte";
import { saidClock } from "$lib/ready/said";

const SHOP = "Mon, 30 Nov 2026 12:00:00 GMT";
const shop = Date.parse(SHOP);
const MINUTE = 60_000;

beforeEach(() => {
  clock.ahead = null;
});

test.each([
  [0, null],
  [2 * MINUTE, null],
  [-2 * MINUTE, null],
  [5 * MINUTE, 5 * MINUTE],
  [-24 * 60 * MINUTE, -24 * 60 * MINUTE],
])("a clock %i ms ahead of the shop's is told from one that is right", (ahead, told) => {
  noteServerTime(SHOP, shop + ahead, shop + ahead);

  expect(clock.ahead).toBe(told);
});

test("a slow answer does not make the clock wrong", () => {
  noteServerTime(SHOP, shop - 4 * MINUTE, shop + 4 * MINUTE);

  expect(clock.ahead).toBeNull();
});

test("an answer without a time says nothing", () => {
  clock.ahead = 1;

  for (const none of [null, undefined, "", "soon"]) noteServerTime(none, shop, shop);

  expect(clock.ahead).toBe(1);
});

test("once set right, it is no longer said", () => {
  noteServerTime(SHOP, shop + 60 * MINUTE, shop + 60 * MINUTE);
  noteServerTime(SHOP, shop, shop);

  expect(clock.ahead).toBeNull();
});

test("how wrong it is, is said in days, hours or minutes", () => {
  expect(saidClock(24 * 60 * MINUTE)).toContain("1 day ahead");
  expect(saidClock(-24 * 60 * MINUTE + 300)).toContain("1 day behind");
  expect(saidClock(23 * 60 * MINUTE)).toContain("23 hours ahead");
  expect(saidClock(60 * MINUTE - 300)).toContain("1 hour ahead");
  expect(saidClock(-3 * 60 * MINUTE)).toContain("3 hours behind");
  expect(saidClock(7 * MINUTE)).toContain("7 minutes ahead");
});
