import { expect, test } from "vitest";
import type { BenchRow, SheetProgress, Waiting, WaitingKind } from "$lib/bench/shapes";
import type { RunningTimer } from "$lib/worksheet/timers.svelte";
import { inOrderOfNeed, timersOf, waitingInOrder, withKept } from "../../../src/pages/bench/order";

const NOW = new Date(2026, 2, 10, 9, 0);
const sheet = (id: string, done = 0): SheetProgress => ({
  id,
  repair: "r",
  title: id,
  done,
  of: 9,
  failed: 0,
  next: null,
});
const row = (id: string, due_on: string | null, more: Partial<BenchRow> = {}): BenchRow => ({
  id,
  number: id,
  stage: "on_the_bench",
  stage_since: "2026-03-01T09:00:00Z",
  stage_words: "on the bench",
  unit: { code: "", make: "Testmake", model: id, serial: "" },
  due_on,
  is_late: false,
  is_due_today: false,
  assigned_to: null,
  age_days: 1,
  waiting_for: null,
  why: null,
  worksheets: [],
  ...more,
});
const timer = (worksheet: string, minutes: number): RunningTimer => ({
  worksheet,
  step: "soak",
  title: "Soak",
  started_at: NOW.toISOString(),
  seconds: minutes * 60,
  ring: true,
  rung: false,
});
const ids = (rows: BenchRow[]) => rows.map((one) => one.id);

test("late stands first, the longest late on top, then what is promised today, then the rest by its day", () => {
  const rows = [
    row("none", null),
    row("later", "2026-03-20"),
    row("today", "2026-03-10"),
    row("late", "2026-03-09"),
    row("later still", "2026-04-01"),
    row("very late", "2026-02-27"),
  ];

  const found = inOrderOfNeed(rows, [], NOW);

  expect(ids(found.burning)).toEqual(["very late", "late", "today"]);
  expect(ids(found.rest)).toEqual(["later", "later still", "none"]);
});

test("a repair on which a timer runs burns before anything late", () => {
  const rows = [row("late", "2026-03-01"), row("soaking", null, { worksheets: [sheet("s")] })];

  expect(ids(inOrderOfNeed(rows, [timer("s", 5)], NOW).burning)).toEqual(["soaking", "late"]);
});

test("of the timers of a repair the one that ends first comes first, and others' are not its own", () => {
  const soaking = row("soaking", null, { worksheets: [sheet("s"), sheet("q")] });

  const found = timersOf(soaking, [timer("s", 60), timer("other", 1), timer("q", 5)]);

  expect(found.map((one) => one.worksheet)).toEqual(["q", "s"]);
});

test("what was kept yesterday is late by the clock of today", () => {
  const kept = row("kept", "2026-03-09", { is_due_today: true });

  expect(ids(inOrderOfNeed([kept], [], NOW).burning)).toEqual(["kept"]);
  expect(ids(inOrderOfNeed([kept], [], new Date(2026, 2, 8)).rest)).toEqual(["kept"]);
});

test("what is ready for its customer is not late, whatever was promised", () => {
  expect(ids(inOrderOfNeed([row("ready", "2026-03-01", { stage: "ready" })], [], NOW).rest)).toEqual([
    "ready",
  ]);
});

test("what others wait for comes first, the oldest of its kind on top", () => {
  const waits = (kind: WaitingKind, at: string | null): Waiting => ({
    kind,
    at,
    repair: { id: kind, number: "1", unit: "", code: "" },
    by_name: "",
    text: "",
  });
  const rows = [
    waits("close_up", null),
    waits("note", "2026-03-09"),
    waits("go_ahead", "2026-03-01"),
    waits("note", "2026-03-02"),
    waits("sign_off", null),
    waits("handed", "2026-03-09"),
  ];

  expect(waitingInOrder(rows).map((one) => [one.kind, one.at])).toEqual([
    ["handed", "2026-03-09"],
    ["sign_off", null],
    ["note", "2026-03-02"],
    ["note", "2026-03-09"],
    ["go_ahead", "2026-03-01"],
    ["close_up", null],
  ]);
});

test("what lies on the phone counts before what the server knew", () => {
  const rows = [row("r", null, { worksheets: [sheet("here", 2), sheet("away", 2)] })];

  const [found] = withKept(rows, new Map([["here", sheet("here", 5)]]));

  expect(found?.worksheets.map((one) => one.done)).toEqual([5, 2]);
});
