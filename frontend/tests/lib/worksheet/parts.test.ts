import { expect, test } from "vitest";
import { worksheetState } from "$lib/worksheet/state";
import { partsOf } from "$lib/worksheet/parts";
import type { Pack } from "$lib/api/work-shapes";
import { stepOf } from "../../stand-ins/worksheet";

function parts(...groups: string[]) {
  const steps = groups.map((group, n) => stepOf(`s${String(n)}`, "note", { group }));
  const { steps: states } = worksheetState({ steps } as Pack, []);
  return partsOf(states).map((part) => [part.title, part.steps.length]);
}

test("each group begins a part and names it; steps without a group stay unnamed", () => {
  expect(parts("", "A", "A", "B", "A")).toEqual([
    [null, 1],
    ["A", 2],
    ["B", 1],
    ["A", 1],
  ]);
});

test("a long group goes on in further parts that do not name it again, and no step is lost", () => {
  expect(parts(...Array.from({ length: 20 }, () => "A"))).toEqual([
    ["A", 8],
    [null, 8],
    [null, 4],
  ]);
});
