import { expect, test } from "vitest";
import type { Entry, Pack, Step } from "$lib/api/work-shapes";
import { reasonsFor, typedBefore, undoable } from "$lib/worksheet/undo";
import { worksheetState } from "$lib/worksheet/state";
import { entryOf, stepOf } from "../../stand-ins/worksheet";

const rows = [{ id: "r1", title: "+15 V", set_percent: null, set_volt: null }];
const columns = [{ key: "dc", title: "DC", quantity: "voltage_dc", unit: "V", band: null }];
const gate = stepOf("gate", "caution", { safety: true });
const steps = [gate, stepOf("volts", "reading"), stepOf("rails", "table", { rows, columns })];
const state = (entries: Entry[], given: Step[] = steps) =>
  worksheetState({ steps: given } as unknown as Pack, entries);
const passed = entryOf("gate", "acknowledge", { id: "gate-1" });
const read = entryOf("volts", "reading", { id: "volts-1", value: { as_typed: "500m" }, seq: 2 });

test("what was saved last and still stands can be undone, on the step it stands on", () => {
  const found = undoable(state([passed, read]), "volts-1");

  expect([found?.entry.id, found?.on.step.id]).toEqual(["volts-1", "volts"]);
});

test("a reading in a cell is undone on its grid", () => {
  const cell = entryOf("rails/r1/dc", "reading", { id: "cell-1", seq: 3 });

  expect(undoable(state([passed, cell]), "cell-1")?.on.step.id).toBe("rails");
});

test("what was corrected since, or is not there, cannot be undone", () => {
  const better = entryOf("volts", "reading", { id: "volts-2", replaces: "volts-1", reason: "x", seq: 3 });
  const now = state([passed, read, better]);

  expect([undoable(now, "volts-1"), undoable(now, "nothing"), undoable(now, null)]).toEqual([
    null,
    null,
    null,
  ]);
});

test("a signature, a part and a photo are not undone like this", () => {
  for (const kind of ["sign_off", "part", "photo"] as const)
    expect(undoable(state([passed, entryOf("volts", kind, { id: "other", seq: 2 })]), "other")).toBeNull();
});

test("a step that is locked by now is not opened to undo", () => {
  expect(undoable(state([read]), "volts-1")).toBeNull();
});

test("a correction begins with the reading as it was typed, and offers reasons of its kind", () => {
  expect([typedBefore(read), typedBefore(passed), typedBefore(null)]).toEqual(["500m", "", ""]);
  expect(reasonsFor(read)[0]).toBe("reason.mistyped");
  expect(reasonsFor(entryOf("x", "note"))).toEqual([]);
});
