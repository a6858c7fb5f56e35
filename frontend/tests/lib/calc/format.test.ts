import fc from "fast-check";
import { expect, test } from "vitest";
import { RULES, type Quantity } from "$lib/calc/quantities";
import { formatReading, formatValue, grouped, parseReading } from "$lib/calc/readings";

test.each([
  ["0.16", "current_dc", "160 mA"],
  ["4700", "resistance", "4.7 kΩ"],
  ["0.000012", "current_dc", "12 µA"],
  ["118", "voltage_ac", "118 V"],
  ["0", "voltage_dc", "0 V"],
] as const)("shows %s of %s as %s", (text, quantity, shown) => {
  expect(formatReading(text, quantity)).toBe(shown);
});

test.each([
  [1e-7, "A", "100 nA"],
  [0.000333333333, "A", "333.3 µA"],
  [2e6, "ohm", "2 MΩ"],
  [-12.5, "V", "-12.5 V"],
  [55, "rpm", "55 rpm"],
])("shows the limit %s %s as %s", (value, unit, shown) => {
  expect(formatValue(value, unit)).toBe(shown);
});

test.each([
  ["50000000", "50\u202F000\u202F000"],
  ["12345.6789", "12\u202F345.6789"],
  ["-100000", "-100\u202F000"],
  ["4700", "4700"],
  ["0.00005", "0.00005"],
])("groups the digits of %s", (text, shown) => {
  expect(grouped(text)).toBe(shown);
});

test("what is shown back reads as the same value", () => {
  const quantities = fc.constantFrom(...(Object.keys(RULES) as Quantity[]).filter((q) => q !== "count"));
  const numbers = fc.tuple(fc.integer({ min: 1, max: 99999 }), fc.integer({ min: -3, max: 0 }));
  fc.assert(
    fc.property(quantities, numbers, (quantity, [digits, power]) => {
      const typed = `${String(digits)}e${String(power)}`;
      if (Number(typed) > RULES[quantity].highest) return;

      const first = parseReading(typed, quantity);
      const second = parseReading(first.shown, quantity);

      expect(second.text).toBe(first.text);
    }),
  );
});
