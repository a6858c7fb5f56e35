import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { AlongBand, Rule } from "$lib/api/work-shapes";
import { bandAt, judge, type Verdict } from "$lib/calc/judge";

type Limit = number | null;
type Plain = [value: number, low: Limit, high: Limit, uncertainty: number, rule: string, verdict: string];
type Along = [
  x: number,
  points: AlongBand["points"],
  value: number,
  uncertainty: number,
  rule: string,
  verdict: string,
];
interface Table {
  rules: Record<string, Rule>;
  verdicts: Record<string, Verdict>;
  plain: Plain[];
  along: Along[];
}

// The same file the server's tests run; exact arithmetic made its verdicts.
const table = JSON.parse(readFileSync("../tests/vectors/judge-random.json", "utf8")) as Table;
const NO_LIMITS = { low: null, high: null };

test("judges random readings as exact arithmetic judges them", () => {
  const wrong = table.plain.filter(([value, low, high, uncertainty, rule, verdict]) => {
    return judge(value, { low, high }, uncertainty, table.rules[rule]!) !== table.verdicts[verdict];
  });

  expect(wrong).toEqual([]);
  expect(table.plain.length + table.along.length).toBe(10_000);
});

test("judges random readings by limits along another one as exact arithmetic judges them", () => {
  const wrong = table.along.filter(([x, points, value, uncertainty, rule, verdict]) => {
    const limits = bandAt(points, x) ?? NO_LIMITS;
    return judge(value, limits, uncertainty, table.rules[rule]!) !== table.verdicts[verdict];
  });

  expect(wrong).toEqual([]);
});
