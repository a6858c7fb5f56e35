import { cleanup, render, screen } from "@testing-library/svelte";
import { afterEach, expect, test, vi } from "vitest";
import type { Entry, EntryKind, Pack, Step } from "$lib/api/work-shapes";
import type { SaveMore } from "$lib/worksheet/context";
import { worksheetState } from "$lib/worksheet/state";
import StepCard from "../../../src/pages/bench/parts/StepCard.svelte";

function step(id: string, kind: Step["kind"], more: Partial<Step> = {}): Step {
  const plain = { group: "", title: id, text: "", phase: null, required: true, when: null };
  return { id, kind, ...plain, safety: true, cautions: [], work: null, variants: null, ...more };
}
const feeds = step("Feeds off", "look", {
  choices: [
    { key: "off", label: "All off", verdict: "pass" },
    { key: "on", label: "Not all", verdict: "fail" },
  ],
});
const dead = step("Volts at C2", "reading", {
  quantity: "voltage_dc",
  unit: "V",
  phase: "as_left",
  band: { low: -50, high: 50 },
  rule: "guarded",
  blocks: true,
  mains: true,
  meter_kinds: [],
});
const open = step("Open it", "instruction");

function entry(on: Step, kind: EntryKind, value: Record<string, unknown>, verdict: string): Entry {
  const who = { made_by: "p", made_by_name: "Anna", device_id: "d", made_at: "2026-03-02T09:00:00Z" };
  const where = { record: "w", repair: "r", worksheet: "w", step: on.id };
  return { id: `e-${on.id}`, ...where, kind, value, replaces: null, reason: "", ...who, verdict, seq: 1 };
}
function show(shown: Step, steps: Step[], ...entries: Entry[]) {
  return showWith({}, shown, steps, ...entries);
}
function showWith(work: Record<string, unknown>, shown: Step, steps: Step[], ...entries: Entry[]) {
  const pack = { steps, meters: [], work } as unknown as Pack;
  const state = worksheetState(pack, entries);
  const one = state.steps.find((other) => other.step.id === shown.id);
  if (!one) throw new Error(`${shown.id} is not shown`);
  const save = vi.fn((_kind: EntryKind, _value: object, _more?: SaveMore) => Promise.resolve());
  const context = { pack, state, worksheet: "w", reload: () => Promise.resolve(), save };
  render(StepCard, { props: { context, one, onshow: () => undefined } });
  return save;
}
const notAllOff = entry(feeds, "choice", { choice: "on" }, "fail");
const charged = entry(dead, "reading", { value_text: "320", quantity: "voltage_dc", unit: "V" }, "fail");
afterEach(cleanup);

test("a step behind a safety step not yet done says what comes first", () => {
  show(open, [feeds, open]);

  expect(screen.getByText("First: Feeds off")).toBeTruthy();
});

test("a step behind a failed safety answer says what locks it and what to do", () => {
  show(open, [feeds, open], notAllOff);

  expect(screen.getByText("Locked by: Feeds off — mend it, then correct your answer")).toBeTruthy();
  expect(screen.queryByRole("button", { name: "Done" })).toBeNull();
});

test("a step behind a reading that failed says to measure again", () => {
  show(open, [dead, open], charged);

  expect(screen.getByText("Locked by: Volts at C2 — mend it, then measure again")).toBeTruthy();
});

test.each([
  ["A3", "Bin A3"],
  [null, "It lies in no bin of the parts wall."],
])("a part in bin %s says where it lies", (bin, said) => {
  const take = step("Take it", "take_part", { part: { code: "PX", name: "Fuse", bin }, quantity: 1 });

  show(take, [take]);

  expect(screen.getByText(said)).toBeTruthy();
});

test("the failed safety answer itself says that it locks the rest", () => {
  show(feeds, [feeds, open], notAllOff);

  expect(screen.getByText(/Everything after this step is locked/)).toBeTruthy();
  expect(screen.getByRole("button", { name: "Correct" })).toBeTruthy();
});

test("a failed reading on mains says not to touch, and is measured again with its reason filled in", async () => {
  show(dead, [dead, open], charged);

  expect(screen.getByText(/Do not touch/)).toBeTruthy();
  screen.getByRole("button", { name: "Measure again" }).click();

  const reason = await screen.findByLabelText<HTMLInputElement>("Reason");
  expect(reason.value).toBe("measured again");
});

test("a reading as found that is out of its limits is a finding, nothing to measure again", () => {
  const found: Step = { ...dead, phase: "as_found", blocks: false };

  show(found, [found], charged);

  expect(screen.getByText("Read before work: it is noted and locks nothing. Go on.")).toBeTruthy();
  expect(screen.queryByRole("button", { name: "Measure again" })).toBeNull();
  expect(screen.getByRole("button", { name: "Correct" })).toBeTruthy();
});

test("where a reading's limits come from stands below what is typed, an answer above its button", () => {
  const working = { lines: [], sources: [], cautions: ["Prove the meter."], disagreements: [] };
  const answer = { outcome: "ok", title: "When it is dead", text: "At most 50 V.", value: null, working };
  const cases: [Step, string, number][] = [
    [{ ...dead, work: "dead" }, "Save", Node.DOCUMENT_POSITION_PRECEDING],
    [step("Limits", "computed", { work: "dead" }), "Read and accepted", Node.DOCUMENT_POSITION_FOLLOWING],
  ];

  for (const [one, label, where] of cases) {
    showWith({ dead: answer }, one, [one]);

    const button = screen.getByRole("button", { name: new RegExp(label) });
    const title = screen.getByRole("heading", { name: "When it is dead" });
    expect(title.compareDocumentPosition(button) & where).toBeTruthy();
    expect(screen.getByText("Prove the meter.")).toBeTruthy();
    cleanup();
  }
});
