import * as fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { BadInput } from "$lib/calc/bad-input";
import { readNumber, showNumber, showWithUnit } from "$lib/calculators/numbers";

const any = { whole: false, lowest: null, highest: null, above: false, below: false };
const read = (typed: string, unit: string) => readNumber(typed, { ...any, unit });
function codeOf(work: () => unknown): string | null {
  try {
    work();
    return null;
  } catch (error) {
    if (error instanceof BadInput) return error.code;
    throw error;
  }
}

describe("a number as techs write it", () => {
  it.each([
    ["160m", "A", 0.16],
    ["0.16 A", "A", 0.16],
    ["4k7", "Ω", 4700],
    ["4u7", "F", 4.7e-6],
    ["10 nF", "F", 1e-8],
    ["-20", "°C", -20],
    ["2 min", "s", 120],
    ["150 VA", "VA", 150],
    ["1.5 kVA", "VA", 1500],
    ["1,8 m", "m", 1.8],
    ["12", "", 12],
    ["0.75 mm²", "mm²", 0.75],
    ["3 yr", "yr", 3],
    // The prefix is built into the unit: a bare number is in it, a prefixed one is turned into it.
    ["160", "mA", 160],
    ["0.16 A", "mA", 160],
    ["160m", "mA", 160],
    ["4k7", "kΩ", 4.7],
    ["1.5", "MΩ", 1.5],
    ["100 nF", "µF", 0.1],
    ["750 mm", "mm", 750],
  ])("%s in a field of %s", (typed, unit, value) => {
    expect(read(typed, unit)).toBe(value);
  });

  it.each([
    ["1,234", "V", "ambiguous_separator"],
    ["5 W", "V", "wrong_unit"],
    ["5 V", "", "unit_not_wanted"],
    ["5m", "Ω", "milli_or_mega"],
    ["five", "", "not_a_number"],
    ["", "V", "empty"],
  ])("%s in a field of %s is refused: %s", (typed, unit, code) => {
    expect(codeOf(() => read(typed, unit))).toBe(code);
  });
});

test("limits belong to the number, unless the schema says that they do not", () => {
  const limits = { ...any, unit: "V", lowest: 1, highest: 10 };

  expect(readNumber("1", limits)).toBe(1);
  expect(codeOf(() => readNumber("0.9", limits))).toBe("below");
  expect(codeOf(() => readNumber("11", limits))).toBe("above");
  expect(codeOf(() => readNumber("1", { ...limits, above: true }))).toBe("not_above");
  expect(codeOf(() => readNumber("10", { ...limits, below: true }))).toBe("not_below");
  expect(codeOf(() => readNumber("1.5", { ...any, unit: "", whole: true }))).toBe("not_whole");
});

test("a number is shown with the prefix that suits; where none is needed the unit stands beside the field", () => {
  expect(showNumber(230, "V")).toBe("230");
  expect(showNumber(0.16, "A")).toBe("160 mA");
  expect(showWithUnit(4.7e-9, "F")).toBe("4.7 nF");
  expect(showNumber(160, "mA")).toBe("160");
  expect(showWithUnit(0.75, "mm²")).toBe("0.75 mm²");
});

const UNITS = [
  "V",
  "A",
  "Ω",
  "F",
  "Hz",
  "W",
  "°C",
  "s",
  "%",
  "VA",
  "H",
  "m",
  "mA",
  "kΩ",
  "MΩ",
  "µF",
  "mm",
  "d",
  "yr",
  "",
];
// What a person types has at most 15 digits that count.
const typedNumber = fc
  .tuple(fc.integer({ min: -999_999_999, max: 999_999_999 }), fc.integer({ min: -12, max: 3 }))
  .map(([digits, power]) => Number(`${String(digits)}e${String(power)}`));

test("what is shown reads back as the same number, in every unit", () => {
  fc.assert(
    fc.property(typedNumber, fc.constantFrom(...UNITS), (value, unit) => {
      expect(read(showNumber(value, unit), unit)).toBe(value === 0 ? 0 : value);
      expect(read(showWithUnit(value, unit), unit)).toBe(value === 0 ? 0 : value);
    }),
  );
});

test("farads are shown as the trade writes them, never in mF", () => {
  expect(showNumber(0.0047, "F")).toBe("4700 µF");
  expect(showNumber(4.7e-6, "F")).toBe("4.7 µF");
  expect(readNumber("4700 µF", { ...any, unit: "F" })).toBe(0.0047);
});
