import { expect, test } from "vitest";
import type { Pack, Step } from "$lib/api/work-shapes";
import { Trial } from "../../../src/pages/templates/trial.svelte";

function step(id: string, kind: Step["kind"], more: Partial<Step> = {}): Step {
  const plain = { group: "", title: id, text: "", phase: null, required: true, when: null };
  return { id, kind, ...plain, safety: false, cautions: [], work: null, variants: null, ...more };
}
const trialOf = (...steps: Step[]) =>
  new Trial({ steps, meters: [], work: {}, worksheet: "w", repair: "r" } as unknown as Pack);
const blows = step("blows", "look", {
  choices: [
    { key: "no", label: "No", verdict: "fail" },
    { key: "yes", label: "Yes", verdict: "pass" },
  ],
});
const airflow = step("airflow", "reading", {
  quantity: "airflow",
  unit: "m3/h",
  phase: "as_left",
  blocks: true,
  band: { low: 40, high: null },
  when: { eq: ["blows", "yes"] },
});

test("all can be answered so that the worksheet passes, steps that appear on the way too", () => {
  const noise = step("noise", "table", {
    rows: [{ id: "r1", title: "Front", set_percent: null, set_volt: null }] as never,
    columns: [
      {
        key: "db",
        quantity: "sound_level",
        unit: "dB(A)",
        title: "Noise",
        band: { along: null, rows: [[null, 35]] },
      },
    ] as never,
    blocks: true,
  });
  const trial = trialOf(
    step("first", "caution", { safety: true }),
    blows,
    airflow,
    noise,
    step("sign", "sign_off"),
  );

  trial.answerAll();

  expect(trial.state.outcome).toBe("passed");
  expect(trial.state.steps.map((one) => one.step.id)).toEqual(["first", "blows", "airflow", "noise", "sign"]);
  expect(trial.state.steps.find((one) => one.step.id === "airflow")?.verdict).toBe("pass");
});

test("what is typed is judged as on the bench, and a fail keeps the worksheet open", () => {
  const trial = trialOf(blows, airflow);

  trial.record("blows", "choice", { choice: "no" }, { verdict: "fail" });

  expect(trial.state.outcome).toBe("failed");
  expect(trial.state.steps).toHaveLength(1);
});

test("a correction replaces what stood, and beginning again forgets all", () => {
  const trial = trialOf(blows);
  trial.record("blows", "choice", { choice: "no" }, { verdict: "fail" });

  trial.record(
    "blows",
    "choice",
    { choice: "yes" },
    { verdict: "pass", replaces: trial.entries[0]?.id ?? null },
  );

  expect(trial.state.outcome).toBe("passed");
  trial.begin();
  expect(trial.state.outcome).toBe("open");
  expect(trial.entries).toEqual([]);
});

test("a step that stays open although answered does not go round for ever", () => {
  const cannot = step("cannot", "reading", {
    quantity: "airflow",
    blocks: true,
    band: { along: "nothing", points: [] },
  });
  const trial = trialOf(cannot, step("after", "note"));

  trial.answerAll();

  expect(trial.state.outcome).not.toBe("passed");
});
