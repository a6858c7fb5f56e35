import { describe, expect, test } from "vitest";
import type { Entry, EntryKind, Pack, Step } from "$lib/api/work-shapes";
import { holds, withVariant } from "$lib/worksheet/conditions";
import { byStep } from "$lib/worksheet/effective";
import { limitsNow } from "$lib/worksheet/bands";
import { firstOpenCell } from "$lib/worksheet/grid";
import { nextStep, worksheetState } from "$lib/worksheet/state";

let count = 0;
function step(id: string, kind: Step["kind"], more: Partial<Step> = {}): Step {
  const plain = { group: "", title: id, text: "", safety: false, phase: null, required: true, when: null };
  return { id, kind, ...plain, cautions: [], work: null, variants: null, ...more };
}
function entry(
  on: string,
  kind: EntryKind,
  value: Record<string, unknown> = {},
  more: Partial<Entry> = {},
): Entry {
  count += 1;
  const who = { made_by: "p", made_by_name: "p", device_id: "d", made_at: "2026-01-01T00:00:00Z" };
  const where = { record: "w", repair: "r", worksheet: "w", step: on };
  const id = `e${String(count).padStart(4, "0")}`;
  return {
    id,
    ...where,
    kind,
    value,
    replaces: null,
    reason: "",
    ...who,
    verdict: null,
    seq: count,
    ...more,
  };
}
function sheet(...steps: Step[]): Pack {
  return { steps, meters: [], work: {} } as unknown as Pack;
}
const open = (pack: Pack, ...entries: Entry[]) =>
  worksheetState(pack, entries)
    .steps.filter((one) => !one.settled)
    .map((one) => one.step.id);
const locked = (pack: Pack, ...entries: Entry[]) =>
  worksheetState(pack, entries)
    .steps.filter((one) => one.lockedBy)
    .map((one) => one.step.id);

describe("order", () => {
  const pack = sheet(
    step("look", "instruction"),
    step("unplug", "caution", { safety: true }),
    step("wait", "timer", { safety: true }),
    step("note", "note"),
  );

  test("steps before a safety step may be done at any time, all after it wait for it", () => {
    expect(locked(pack)).toEqual(["wait", "note"]);
  });
  test("an acknowledged safety step opens the way up to the next one", () => {
    expect(locked(pack, entry("unplug", "acknowledge"))).toEqual(["note"]);
  });
  test("a timer counts only once it has ended", () => {
    const before = [
      entry("unplug", "acknowledge"),
      entry("wait", "timer", { started_at: "x", ended_at: null }),
    ];

    expect(locked(pack, ...before)).toEqual(["note"]);
    expect(locked(pack, ...before, entry("wait", "timer", { started_at: "x", ended_at: "y" }))).toEqual([]);
  });
  test("a skip does not settle a safety step", () => {
    expect(locked(pack, entry("unplug", "skip", { how: "skipped" }))).toEqual(["wait", "note"]);
  });
});

describe("readings", () => {
  const band = { low: 1, high: 2 };
  const found = step("found", "reading", { phase: "as_found", band, blocks: false });
  const left = step("left", "reading", { phase: "as_left", band, blocks: true });
  const bad = (on: string, more: Partial<Entry> = {}) =>
    entry(on, "reading", { value_text: "3" }, { verdict: "fail", ...more });

  test("one as found never blocks, whatever it says", () => {
    expect(open(sheet(found), bad("found"))).toEqual([]);
    expect(worksheetState(sheet(found), [bad("found")]).outcome).toBe("passed");
  });
  test("one as left blocks until it passes, and says that something failed", () => {
    expect(open(sheet(left), bad("left"))).toEqual(["left"]);
    expect(worksheetState(sheet(left), [bad("left")]).outcome).toBe("failed");
  });
  test("a correction lifts a failed reading", () => {
    const first = bad("left");
    const second = entry(
      "left",
      "reading",
      { value_text: "1.5" },
      { verdict: "pass", replaces: first.id, reason: "slip" },
    );

    expect(worksheetState(sheet(left), [first, second]).outcome).toBe("passed");
  });
  test("one without limits is settled by being there", () => {
    const free = step("free", "reading", { blocks: true, band: null });

    expect(
      open(sheet(free), entry("free", "reading", { value_text: "5" }, { verdict: "not_judged" })),
    ).toEqual([]);
  });
  test("limits along another reading follow its standing value", () => {
    const along = {
      along: "found",
      points: [
        [0, 0, 10],
        [10, 10, 20],
      ] as [number, number, number][],
    };
    const first = entry("found", "reading", { value_text: "5" });

    expect(limitsNow(along, byStep([]))).toBeNull();
    expect(limitsNow(along, byStep([first]))).toEqual({ low: 5, high: 15 });
    const second = entry("found", "reading", { value_text: "2" }, { replaces: first.id });
    expect(limitsNow(along, byStep([first, second]))).toEqual({ low: 2, high: 12 });
  });
});

describe("choices", () => {
  const yes = byStep([entry("a", "choice", { choice: "yes" }), entry("b", "choice", { choice: "no" })]);

  test("conditions read them, and an unanswered one makes a condition false, not its opposite true", () => {
    expect(holds({ eq: ["a", "yes"] }, yes)).toBe(true);
    expect(holds({ in: ["a", ["no", "maybe"]] }, yes)).toBe(false);
    expect(holds({ and: [{ eq: ["a", "yes"] }, { not: { eq: ["b", "yes"] } }] }, yes)).toBe(true);
    expect(holds({ eq: ["c", "yes"] }, yes)).toBe(false);
    expect(holds({ not: { eq: ["c", "yes"] } }, yes)).toBe(false);
  });
  test("a variant replaces fields, the one for both choices before the one for the first", () => {
    const cases = { yes: { text: "one" }, "yes|no": { text: "both" } };
    const given = step("x", "instruction", { variants: { keys: ["a", "b"], cases } });

    expect(withVariant(given, yes).text).toBe("both");
    expect(withVariant(given, byStep([entry("a", "choice", { choice: "yes" })])).text).toBe("one");
    expect(withVariant(given, byStep([])).text).toBe("");
  });
  test("a hidden step neither counts nor locks", () => {
    const hidden = step("extra", "caution", { safety: true, when: { eq: ["a", "yes"] } });
    const pack = sheet(step("a", "look", { choices: [] }), hidden, step("end", "note"));

    expect(locked(pack, entry("a", "choice", { choice: "no" }))).toEqual([]);
    expect(locked(pack, entry("a", "choice", { choice: "yes" }))).toEqual(["end"]);
  });
  test("a look that tells a fault lets the worksheet end as failed", () => {
    const look = step("cord", "look", { choices: [{ key: "torn", label: "", verdict: "fail" }] });

    const state = worksheetState(sheet(look), [entry("cord", "choice", { choice: "torn" })]);

    expect([state.outcome, state.failed.map((one) => one.step.id)]).toEqual(["failed", ["cord"]]);
  });
});

describe("ramps and the way on", () => {
  const column = { key: "volt", quantity: "voltage_ac", unit: "V", title: "", band: null };
  const ramp = step("ramp", "ramp", {
    rows: [
      { id: "r1", set_percent: 10, set_volt: 23 },
      { id: "r2", set_percent: 20, set_volt: 46 },
    ],
    columns: [column],
  });

  test("a ramp is settled when every cell has its reading", () => {
    const one = entry("ramp/r1/volt", "reading", { value_text: "23" });

    expect(open(sheet(ramp), one)).toEqual(["ramp"]);
    expect(open(sheet(ramp), one, entry("ramp/r2/volt", "reading", { value_text: "46" }))).toEqual([]);
  });
  test("the next step is the first open one after this, then from the start, never a locked one", () => {
    const pack = sheet(
      step("a", "note"),
      step("b", "note"),
      step("c", "caution", { safety: true }),
      step("d", "note"),
    );

    expect(nextStep(worksheetState(pack, []), "a")?.step.id).toBe("b");
    expect(
      nextStep(worksheetState(pack, [entry("c", "acknowledge"), entry("d", "note")]), "d")?.step.id,
    ).toBe("a");
    expect(nextStep(worksheetState(pack, [entry("a", "note"), entry("b", "note")]), "c")?.step.id).toBe("c");
  });
});

describe("a table of readings", () => {
  const column = (key: string, rows: [number | null, number | null][] | null) => ({
    key,
    quantity: "voltage_dc",
    unit: "V",
    title: key,
    required: true,
    band: rows && { along: null, rows },
  });
  const rails = step("rails", "table", {
    phase: "as_left",
    rows: [
      { id: "r1", title: "+15 V", set_percent: null, set_volt: null },
      { id: "r2", title: "-15 V", set_percent: null, set_volt: null },
    ],
    columns: [
      column("dc", [
        [14.5, 15.5],
        [-15.5, -14.5],
      ]),
      column("ripple", null),
    ],
  });
  const cell = (on: string, text: string, verdict: string) =>
    entry(`rails/${on}`, "reading", { value_text: text }, { verdict });
  const rest = [cell("r1/ripple", "0.001", "not_judged"), cell("r2/ripple", "0.001", "not_judged")];
  const good = [cell("r1/dc", "15", "pass"), cell("r2/dc", "-15", "pass"), ...rest];
  const oneBad = [cell("r1/dc", "13", "fail"), cell("r2/dc", "-15", "pass"), ...rest];

  test("is settled once every cell that is required has its reading", () => {
    expect(open(sheet(rails), ...good.slice(1))).toEqual(["rails"]);
    expect(open(sheet(rails), ...good)).toEqual([]);
  });
  test("goes row by row to the next open cell", () => {
    expect(firstOpenCell(rails, byStep([]))).toEqual({ row: "r1", column: "dc" });
    expect(firstOpenCell(rails, byStep(good.slice(0, 1)))).toEqual({ row: "r1", column: "ripple" });
    expect(firstOpenCell(rails, byStep(good))).toBeNull();
  });
  test("that blocks stays open until each cell with limits passes; one without limits only has to be there", () => {
    const blocking = { ...rails, blocks: true };

    expect(open(sheet(rails), ...oneBad)).toEqual([]);
    expect(open(sheet(blocking), ...oneBad)).toEqual(["rails"]);
    expect(open(sheet(blocking), ...good)).toEqual([]);
  });
  test("fails as a whole by its worst cell", () => {
    const state = worksheetState(sheet(rails), oneBad);

    expect([state.steps[0]?.verdict, state.outcome]).toEqual(["fail", "failed"]);
  });
  test("that is a safety step and blocks locks what comes after it until it passes", () => {
    const pack = sheet({ ...rails, safety: true, blocks: true }, step("open it", "instruction"));

    expect(locked(pack, ...oneBad)).toEqual(["open it"]);
    expect(locked(pack, ...good)).toEqual([]);
  });
});
