import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { Entry, Pack } from "$lib/api/work-shapes";
import { worksheetState } from "$lib/worksheet/state";

interface Case {
  name: string;
  steps: Pack["steps"];
  entries: Entry[];
  stage: string;
  states: Record<string, { settled: boolean; locked_by: string | null }>;
}

const cases = JSON.parse(readFileSync("../tests/vectors/worksheets.json", "utf8")) as Case[];

test.each(cases)("sees the same worksheet as the server: $name", (given) => {
  const state = worksheetState({ steps: given.steps } as Pack, given.entries);

  const found = Object.fromEntries(
    state.steps.map((one) => [one.step.id, { settled: one.settled, locked_by: one.lockedBy?.id ?? null }]),
  );
  expect(found).toEqual(given.states);
  expect(state.outcome).toBe(given.stage);
});
