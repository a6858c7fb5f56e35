import fc from "fast-check";
import { expect, test } from "vitest";
import type { Plain } from "$lib/templates/body";
import { chosenRows, conditionOfChosen, type ChosenRow } from "$lib/templates/bench-rows";
import { comparedRows, conditionOfCompared, type ComparedRow } from "$lib/templates/fact-rows";

const name = fc.constantFrom("fuse", "links", "earth");
const chosen: fc.Arbitrary<ChosenRow> = fc.record({
  step: name,
  keys: fc.uniqueArray(name, { minLength: 1 }),
  negated: fc.boolean(),
});
const path = fc.constantFrom("sheet.idle_watt", "unit.make");
const compared: fc.Arbitrary<ComparedRow> = fc.oneof(
  fc.record({
    word: fc.constant("known" as const),
    path,
    values: fc.constant<Plain[]>([]),
    negated: fc.boolean(),
  }),
  fc.record({
    word: fc.constantFrom("eq" as const, "has" as const),
    path,
    values: fc.tuple(fc.oneof(fc.string(), fc.boolean(), fc.integer())),
    negated: fc.boolean(),
  }),
  fc.record({ word: fc.constant("in" as const), path, values: fc.array(fc.string()), negated: fc.boolean() }),
  fc.record({
    word: fc.constant("at_least" as const),
    path,
    values: fc.tuple(fc.integer()),
    negated: fc.boolean(),
  }),
);

test("rows of choices make a condition that reads as the same rows", () => {
  fc.assert(
    fc.property(fc.array(chosen), (rows) => {
      expect(chosenRows(conditionOfChosen(rows))).toEqual(rows);
    }),
  );
});

test("rows of facts make a condition that reads as the same rows, joined the same where there are several", () => {
  fc.assert(
    fc.property(fc.array(compared), fc.constantFrom("and" as const, "or" as const), (rows, joined) => {
      const read = comparedRows(conditionOfCompared({ joined, rows }));

      expect(read?.rows).toEqual(rows);
      if (rows.length > 1) expect(read?.joined).toBe(joined);
    }),
  );
});

test("what rows cannot say is left to a sentence", () => {
  expect(chosenRows({ not: { and: [{ eq: ["fuse", "right"] }] } })).toBeNull();
  expect(comparedRows({ and: [{ or: [{ known: "unit.make" }] }] })).toBeNull();
  expect(comparedRows({ same: ["unit.make", "sheet.make"] })).toBeNull();
});
