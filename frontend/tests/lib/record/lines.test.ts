import { describe, expect, it } from "vitest";
import type { Entry, Pack } from "$lib/api/work-shapes";
import { recordLines } from "$lib/record/lines";
import { limitsShown } from "$lib/record/shown";

const entry = (id: string, more: Partial<Entry>): Entry => ({
  id, record: "w", repair: "r", worksheet: "w", step: null, kind: "reading", value: {}, replaces: null,
  reason: "", made_by: "p", made_by_name: "Anna", device_id: "d", made_at: "2026-03-02T10:00:00Z",
  verdict: null, ...more,
}); // prettier-ignore

const PACK = {
  steps: [
    { id: "rail", title: "Rail" },
    {
      id: "rails",
      title: "All rails",
      rows: [{ id: "r1", title: "+15 V", set_percent: null, set_volt: null }],
      columns: [{ key: "volt", title: "Volts" }],
    },
  ],
} as unknown as Pack;

describe("the lines of a record", () => {
  it("tie a correction to what it corrects, both ways", () => {
    const [first, again] = recordLines(
      [entry("a", { step: "rail" }), entry("b", { step: "rail", replaces: "a", reason: "slip" })],
      PACK,
    );

    expect(first?.correctedBy?.id).toBe("b");
    expect(first?.corrects).toBeUndefined();
    expect(again?.corrects?.id).toBe("a");
    expect(again?.correctedBy).toBeUndefined();
  });

  it("name the row and the column of a cell, and a step that the pack does not know", () => {
    const titles = recordLines([entry("a", { step: "rails/r1/volt" }), entry("b", { step: "gone" })], PACK);

    expect(titles.map((line) => line.title)).toEqual(["All rails: Volts, +15 V", "gone"]);
  });
});

describe("limits in words", () => {
  it.each([
    ["4.75", "5.25", "4.75 V – 5.25 V"],
    [null, "0.3", "At most 300 mV"],
    ["2000", null, "At least 2 kV"],
    [null, null, ""],
  ])("%s to %s is %s", (low, high, words) => {
    expect(limitsShown(low, high, "voltage_dc", "V").replaceAll(/\s/g, " ")).toBe(words);
  });
});
