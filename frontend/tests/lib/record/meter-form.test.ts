import { describe, expect, it } from "vitest";
import { meterBody, NO_ROW, numberIn, typedOf } from "$lib/record/meter-form";
import type { MeterFull } from "$lib/record/shapes";

const METER: MeterFull = {
  id: "1", code: "M0000017", name: "Hand meter", kinds: ["multimeter"], due_on: null, state: "unknown",
  accuracy: [{ quantity: "voltage_dc", percent: 0.5, counts: 2, resolution: 0.01, range_end: null }],
  serial: "N1", calibrated_on: null, retired_on: null, version: 3, calibrations: [],
}; // prettier-ignore

describe("a meter in its form", () => {
  it("comes out as it went in", () => {
    const made = meterBody(typedOf(METER));

    expect(made).toEqual({
      body: {
        name: "Hand meter",
        serial: "N1",
        kinds: ["multimeter"],
        accuracy: METER.accuracy,
        retired_on: null,
      },
    });
  });

  it("says which field cannot be read, and loses nothing that was typed", () => {
    const typed = typedOf(METER);
    typed.name = "  ";
    typed.accuracy.push({ ...NO_ROW, quantity: "resistance", percent: "about 1", range_end: "2M" });

    const made = meterBody(typed);

    expect("wrong" in made && [...made.wrong.keys()]).toEqual([
      "name",
      "accuracy.1.range_end",
      "accuracy.1.percent",
    ]);
    expect(typed.accuracy[1]?.percent).toBe("about 1");
  });

  it.each([
    ["0,5", 0.5],
    [" 2 ", 2],
    ["", null],
    ["-1", null],
    ["1e999", null],
  ])("reads %s as %s", (typed, value) => {
    expect(numberIn(typed)).toBe(value);
  });
});
