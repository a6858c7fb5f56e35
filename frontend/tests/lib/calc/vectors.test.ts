import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { AlongBand, Rule } from "$lib/api/work-shapes";
import { BadInput } from "$lib/calc/bad-input";
import { checkCharacter, readCode } from "$lib/calc/codes";
import { bandAt, expandedUncertainty, judge, meterLimit } from "$lib/calc/judge";
import type { Quantity } from "$lib/calc/quantities";
import { parseReading } from "$lib/calc/readings";

// The same files the server's tests run.
function vectors<T>(name: string): T {
  return JSON.parse(readFileSync(`../tests/vectors/${name}.json`, "utf8")) as T;
}
/** JSON has no NaN: the tables spell it out. */
const number = (told: number | string | null): number | null => (told === null ? null : Number(told));

function codeOf(work: () => unknown): string | null {
  try {
    work();
    return null;
  } catch (error) {
    if (error instanceof BadInput) return error.code;
    throw error;
  }
}

interface ReadingCase {
  quantity: Quantity;
  typed: string;
  state: string | null;
  text: string | null;
  error_code: string | null;
}
test.each(vectors<ReadingCase[]>("readings"))("reads $typed as $quantity like the server", (given) => {
  const code = codeOf(() => parseReading(given.typed, given.quantity));

  expect(code).toBe(given.error_code);
  if (code) return;
  const reading = parseReading(given.typed, given.quantity);
  expect([reading.state, reading.text]).toEqual([given.state, given.text]);
});

interface JudgeCase {
  value: number | string;
  low: number | string | null;
  high: number | string | null;
  expanded_uncertainty: number | string;
  rule: Rule;
  verdict: string | null;
  error_code: string | null;
}
test("judges every case of the shared table like the server", () => {
  for (const given of vectors<JudgeCase[]>("judge")) {
    const work = () =>
      judge(
        Number(given.value),
        { low: number(given.low), high: number(given.high) },
        Number(given.expanded_uncertainty),
        given.rule,
      );

    const code = codeOf(work);

    expect(code, JSON.stringify(given)).toBe(given.error_code);
    if (!code) expect(work(), JSON.stringify(given)).toBe(given.verdict);
  }
});

interface BandCase {
  points: AlongBand["points"];
  x: number | string;
  band: [number | null, number | null] | null;
  error_code: string | null;
}
test("runs a band along another reading to the last bit like the server", () => {
  for (const given of vectors<BandCase[]>("band")) {
    const work = () => bandAt(given.points, Number(given.x));

    const code = codeOf(work);

    expect(code, JSON.stringify(given)).toBe(given.error_code);
    if (code) continue;
    const found = work();
    expect(found && [found.low, found.high]).toEqual(given.band);
  }
});

interface AccuracyCase {
  value: number;
  pct: number;
  counts: number;
  resolution: number;
  limit: number;
  expanded_uncertainty: number;
}
test("works out a meter's uncertainty to the last bit like the server", () => {
  for (const given of vectors<AccuracyCase[]>("accuracy")) {
    const accuracy = { percent: given.pct, counts: given.counts, resolution: given.resolution };

    expect(meterLimit(given.value, accuracy)).toBe(given.limit);
    expect(expandedUncertainty(given.value, accuracy)).toBe(given.expanded_uncertainty);
  }
});

describe("codes", () => {
  const table = vectors<{
    check: { body: string; check: string }[];
    read: { typed: string; code: string | null; error_code: string | null }[];
  }>("codes");

  test.each(table.check)("the check character of $body is $check", ({ body, check }) => {
    expect(checkCharacter(body)).toBe(check);
  });
  test.each(table.read)("reads $typed like the server", (given) => {
    const code = codeOf(() => readCode(given.typed));

    expect(code).toBe(given.error_code);
    if (!code) expect(readCode(given.typed).text).toBe(given.code);
  });
});
