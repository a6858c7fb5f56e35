import { describe, expect, it } from "vitest";
import type { Board, Order } from "$lib/api/shapes";
import { usedByMonth } from "../../../src/pages/manager/parts-used";
import { linesToReceive, receivedBody } from "../../../src/pages/manager/receiving";
import { filledStages } from "../../../src/pages/manager/stages";
import { plotWeeks, tickStep } from "../../../src/pages/manager/turnaround";
import { checkCharacter } from "$lib/calc/codes";

const BIN = "B234567" + checkCharacter("B234567");
const order: Order = {
  id: "o1",
  number: 2,
  supplier: "Oberleitung",
  stage: "sent",
  lines: [
    { part: "A1", name: "Fuse", quantity: 10, received: 4, price_minor: 18 },
    { part: "A2", name: "Cell", quantity: 5, received: 5, price_minor: 90 },
  ],
  total_minor: 630,
  created_at: "2026-01-01T00:00:00Z",
  sent_at: null,
};

describe("receiving an order", () => {
  it("proposes what is still to come, in its usual bin", () => {
    expect(linesToReceive(order, { A1: BIN })).toEqual([{ part: "A1", quantity: "6", bin: BIN }]);
  });

  it("sends what was counted and leaves out what did not come", () => {
    const lines = [
      { part: "A1", quantity: "6", bin: BIN.toLowerCase() },
      { part: "A2", quantity: "", bin: "" },
    ];

    expect(receivedBody(lines)).toEqual({ lines: [{ part: "A1", quantity: 6, bin: BIN }] });
  });

  it("names the line whose bin or quantity cannot be read", () => {
    expect(receivedBody([{ part: "A1", quantity: "six", bin: BIN }])).toEqual({ at: 0, field: "quantity" });
    expect(receivedBody([{ part: "A1", quantity: "6", bin: "B2345670" }])).toEqual({ at: 0, field: "bin" });
  });
});

describe("the plot of the weeks", () => {
  const weeks = [
    { week: "2026-01-05", closed: 2, median_days: 27.2 },
    { week: "2026-01-12", closed: 0, median_days: null },
  ];

  it("has round ticks that hold the highest bar", () => {
    const plot = plotWeeks(weeks, { width: 400, height: 100, left: 30 });

    expect(plot.ticks.map((tick) => tick.value)).toEqual([0, 10, 20, 30]);
    expect(plot.bars[0]?.height).toBeCloseTo((27.2 / 30) * 100);
    expect(plot.bars[1]).toMatchObject({ median: null, height: 0 });
  });

  it("keeps to few ticks whatever the figures", () => {
    for (const highest of [1, 3, 7, 40, 55, 130, 400]) {
      expect(Math.ceil(highest / tickStep(highest))).toBeLessThanOrEqual(4);
    }
  });
});

describe("the manager's lists", () => {
  it("tell the oldest and the late of a stage and leave empty stages out", () => {
    const repair = (id: string, age_days: number, overdue: boolean) => ({
      id,
      number: Number(id),
      unit: "E9",
      age_days,
      due_on: null,
      overdue,
      why: null,
    });
    const stages: Board["stages"] = [
      { stage: "ready", label: "ready", repairs: [] },
      { stage: "on_test", label: "on test", repairs: [repair("1", 3, false), repair("2", 9, true)] },
    ];

    const [only, ...more] = filledStages(stages);

    expect(more).toEqual([]);
    expect(only).toMatchObject({ stage: "on_test", oldest: 9, late: 1 });
    expect(only?.repairs.map((one) => one.id)).toEqual(["2", "1"]);
  });

  it("show parts used month by month, the newest month and the most used first", () => {
    const used = (month: string, part: string, quantity: number) => ({
      month,
      part,
      quantity,
      template: "t",
      name: part,
    });

    const months = usedByMonth([used("2026-01", "a", 1), used("2026-02", "b", 2), used("2026-02", "c", 4)]);

    expect(months.map((one) => one.month)).toEqual(["2026-02", "2026-01"]);
    expect(months[0]?.rows.map((one) => [one.part, one.share])).toEqual([
      ["c", 1],
      ["b", 0.5],
    ]);
  });
});
