import { expect, it } from "vitest";
import { isLate } from "../../src/pages/days";

const now = new Date(2026, 2, 2, 9);

it.each([
  ["on_the_bench", "2026-03-01", true],
  ["on_the_bench", "2026-03-02", false],
  ["on_the_bench", null, false],
  ["ready", "2026-02-01", false],
  ["declined", "2026-02-01", false],
  ["handed_back", "2026-02-01", false],
])("a unit %s that was promised for %s is late: %s", (stage, due_on, late) => {
  expect(isLate({ stage, due_on }, now)).toBe(late);
});
