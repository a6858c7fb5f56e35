import fc from "fast-check";
import { expect, test } from "vitest";
import { meantInstead, usualPrefix } from "$lib/calc/slips";
import { parseReading } from "$lib/calc/readings";

const rail = { low: 4.8, high: 5.2 };

test.each([
  ["millivolts typed as volts", 5000, rail, "voltage_dc", "5 V"],
  ["volts typed as millivolts", 0.005, rail, "voltage_dc", "5 V"],
  ["the m left out", 65, { low: 0, high: 0.13 }, "voltage_dc", "65 mV"],
  ["the M left out", 200, { low: 2e6, high: null }, "resistance", "200 MΩ"],
  ["the m of an earth bond left out", 90, { low: null, high: 0.5 }, "resistance", "90 mΩ"],
  ["a rail below zero", -15000, { low: -15.5, high: -14.5 }, "voltage_dc", "-15 V"],
] as const)("a thousand times off is asked about: %s", (_what, si, limits, quantity, meant) => {
  expect(meantInstead(si, limits, quantity)).toBe(meant);
});

test.each([
  ["within its limits", 5, rail],
  ["wrong, but no prefix mends it", 3.1, rail],
  ["mains where there should be none", 118, { low: -34, high: 34 }],
  ["nothing to be held against", 5000, { low: null, high: null }],
  ["zero, which has no prefix", 0, rail],
  ["a little over an upper limit", 0.7, { low: null, high: 0.5 }],
])("a reading that is %s is not asked about", (_what, si, limits) => {
  expect(meantInstead(si, limits, "voltage_dc")).toBeNull();
});

test("what has no prefixes has no slips", () => {
  expect(meantInstead(20_000, { low: 15, high: 30 }, "temperature")).toBeNull();
});

test("what is offered can be typed and lies within the limits", () => {
  const numbers = fc.double({ min: 1e-9, max: 1e5, noNaN: true });
  fc.assert(
    fc.property(numbers, numbers, (si, low) => {
      const meant = meantInstead(si, { low, high: low * 1.2 }, "voltage_dc");
      if (!meant) return;

      const { si: read } = parseReading(meant, "voltage_dc");
      expect(read).toBeGreaterThanOrEqual(low * (1 - 1e-12));
      expect(read).toBeLessThanOrEqual(low * 1.2 * (1 + 1e-12));
    }),
  );
});

test.each([
  [rail, "voltage_dc", ""],
  [{ low: 0, high: 0.13 }, "voltage_dc", "m"],
  [{ low: 2e6, high: null }, "resistance", "M"],
  [{ low: null, high: 0.5 }, "resistance", "m"],
  [{ low: 5e-8, high: 2e-7 }, "capacitance", "n"],
  [{ low: null, high: null }, "voltage_dc", ""],
] as const)("readings of %j are usually written with the prefix “%s”", (limits, quantity, prefix) => {
  expect(usualPrefix(limits, quantity)).toBe(prefix);
});
