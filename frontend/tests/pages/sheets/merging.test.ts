import { expect, test } from "vitest";
import { draftsOf } from "$lib/calculators/draft";
import { fieldsOf } from "$lib/calculators/fields";
import { changedFields, merged } from "../../../src/pages/sheets/merging";
import { factsOf, type FullSheet } from "../../../src/pages/sheets/shapes";

const fields = fieldsOf({
  properties: {
    note: { title: "Note", type: "string", default: "" },
    rated_watt: { title: "Rated power", type: "number", "x-unit": "W" },
    rails: {
      title: "Rails",
      type: "array",
      default: [],
      items: { properties: { name: { type: "string" }, volt: { type: "number", "x-unit": "V" } } },
    },
  },
});
const read = { note: "", rated_watt: 14, rails: [{ name: "+5 V", volt: 5 }] };
const before = draftsOf(fields, read);

test("what I changed is kept on top of what somebody else saved", () => {
  const mine = { ...before, note: "hums" };

  const { drafts, both } = merged(fields, before, mine, { ...read, rated_watt: 15 });

  expect(drafts).toEqual({ ...before, note: "hums", rated_watt: "15" });
  expect(both).toEqual([]);
});

test("where both changed a field mine stands in the form and the field is named", () => {
  const mine = { ...before, rated_watt: "16" };

  const { drafts, both } = merged(fields, before, mine, { ...read, rated_watt: 15 });

  expect(drafts["rated_watt"]).toBe("16");
  expect(both).toEqual(["Rated power"]);
});

test("both having written the same is nothing to look at", () => {
  const mine = { ...before, rated_watt: "15" };

  expect(merged(fields, before, mine, { ...read, rated_watt: 15 }).both).toEqual([]);
});

test("a change inside a row is a change of its list", () => {
  const mine = draftsOf(fields, { ...read, rails: [{ name: "+5 V", volt: 5.1 }] });

  expect([...changedFields(fields, before, mine)]).toEqual(["rails"]);
});

test("a sheet becomes what the form takes: hazards by their keys, no empty groups, nothing beside it", () => {
  const sheet = {
    id: "1", make: "A", model: "B", kind: "mixer", version: 3, doubts: [], lacks: [],
    hazards: [{ key: "selenium", text: "selenium rectifier" }], cell: {}, rails: [],
  } as unknown as FullSheet; // prettier-ignore

  expect(factsOf(sheet)).toEqual({
    make: "A", model: "B", kind: "mixer", hazards: ["selenium"], cell: null, rails: [],
  }); // prettier-ignore
});
