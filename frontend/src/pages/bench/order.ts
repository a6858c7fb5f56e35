// What stands first on my bench. Pure: rows go in, lists in their order come out.
import { byText } from "$lib/by-text";
import type { Id } from "$lib/api/shapes";
import type { BenchRow, SheetProgress, Waiting, WaitingKind } from "$lib/bench/shapes";
import type { RunningTimer } from "$lib/worksheet/timers.svelte";
import { dayFrom, isLate } from "../days";

export interface Ordered {
  /** A timer runs on it, it is late, or it is promised today. */
  burning: BenchRow[];
  rest: BenchRow[];
}

export const isDueToday = (row: BenchRow, now: Date) => row.due_on === dayFrom(now, 0);

/** The timers that run on the worksheets of a repair, the one that is over first next. */
export function timersOf(row: BenchRow, running: readonly RunningTimer[]): RunningTimer[] {
  const sheets = new Set(row.worksheets.map((sheet) => sheet.id));
  const ends = (timer: RunningTimer) => Date.parse(timer.started_at) + timer.seconds * 1000;
  return running.filter((timer) => sheets.has(timer.worksheet)).sort((a, b) => ends(a) - ends(b));
}

/**
 * What is in hand: first what a timer runs on, then what is late, then what is promised today. By the clock of the phone,
 * since what it kept may be from yesterday.
 */
export function inOrderOfNeed(
  rows: readonly BenchRow[],
  running: readonly RunningTimer[],
  now = new Date(),
): Ordered {
  const rank = (row: BenchRow) => {
    if (timersOf(row, running).length) return 0;
    if (isLate(row, now)) return 1;
    return isDueToday(row, now) ? 2 : 3;
  };
  const ranked = rows.map((row, place) => ({ row, place, rank: rank(row) }));
  ranked.sort((a, b) => a.rank - b.rank || byText(due(a.row), due(b.row)) || a.place - b.place);
  return {
    burning: ranked.filter((one) => one.rank < 3).map((one) => one.row),
    rest: ranked.filter((one) => one.rank === 3).map((one) => one.row),
  };
}

const due = (row: BenchRow) => row.due_on ?? "9";

/** What others wait for comes before what only I wait for. */
const FIRST: readonly WaitingKind[] = ["handed", "sign_off", "note", "test_failed", "go_ahead"];

export function waitingInOrder(rows: readonly Waiting[]): Waiting[] {
  const rank = (row: Waiting) => {
    const place = FIRST.indexOf(row.kind);
    return place < 0 ? FIRST.length : place;
  };
  return [...rows].sort((a, b) => rank(a) - rank(b) || byText(a.at ?? "9", b.at ?? "9"));
}

/** The worksheets as the phone has them, with what it has not sent, in place of what the server knows. */
export function withKept(rows: readonly BenchRow[], kept: ReadonlyMap<Id, SheetProgress>): BenchRow[] {
  return rows.map((row) => ({
    ...row,
    worksheets: row.worksheets.map((sheet) => kept.get(sheet.id) ?? sheet),
  }));
}
