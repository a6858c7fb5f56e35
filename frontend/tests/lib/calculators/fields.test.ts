import { expect, test } from "vitest";
import { fieldsOf, valueFieldsOf, withExamples, type Field } from "$lib/calculators/fields";
import { calculator, everything, worked } from "../../stand-ins/calculators";

const fields = fieldsOf(everything);
const field = <K extends Field["kind"]>(name: string, kind: K) => {
  const found = fields.find((one) => one.name === name);
  if (found?.kind !== kind) throw new Error(`${name} is ${found?.kind ?? "missing"}, not ${kind}`);
  return found as Extract<Field, { kind: K }>;
};

test("every kind of schema gives its kind of field, in the schema's order", () => {
  expect(fields.map((one) => `${one.name}: ${one.kind}`)).toEqual([
    "supply_volt: number",
    "load_ampere: number",
    "margin_percent: number",
    "count: number",
    "mark: text",
    "position: choice",
    "is_heater: flag",
    "is_measured: choice",
    "plate_hz: list",
    "sections: list",
    "lamp: group",
    "load: either",
    "odd: free",
  ]);
});

test("a number that may be left out keeps its title, unit, limits and examples", () => {
  expect(field("load_ampere", "number")).toMatchObject({
    title: "Load",
    text: "as measured",
    unit: "A",
    lowest: 0,
    highest: null,
    required: false,
    examples: [0.16],
  });
});

test("choices are said with their labels, and without one as words", () => {
  expect(field("position", "choice").options.map((one) => one.label)).toEqual([
    "one fuse in the line",
    "Winding",
  ]);
});

test("rows take the unit of their list, and the name of their shape in the singular", () => {
  expect(field("plate_hz", "list").item).toMatchObject({ kind: "number", unit: "Hz", title: "Frequencies" });
  expect(field("sections", "list").item).toMatchObject({ kind: "group", title: "Main section" });
});

test("rows are called by the words that the server has put in place of their shape's name", () => {
  const { MainSection, ...shapes } = everything.$defs ?? {};
  const german = {
    ...everything,
    $defs: { ...shapes, MainSection: { ...MainSection, title: "Teilwicklung" } },
  };

  const sections = fieldsOf(german).find((one) => one.name === "sections");

  expect(sections).toMatchObject({ kind: "list", item: { title: "Teilwicklung" } });
});

test("what a shape says about itself is for programmers and stays off the form", () => {
  expect(field("lamp", "group")).toMatchObject({ title: "Lamp", text: "" });
  expect(field("lamp", "group").fields[0]?.title).toBe("Lamp watt");
});

test("a tagged union gives its cases with their fields, without the tag", () => {
  const { cases, tag } = field("load", "either");

  expect(tag).toBe("kind");
  expect(cases.map((one) => [one.label, one.fields.map((inner) => inner.name)])).toEqual([
    ["Resistance", ["ohm"]],
    ["Constant power", ["watt"]],
  ]);
});

test("what is needed or stands in the worked case comes first", () => {
  const first = withExamples(fields, [worked]).filter((one) => one.first);

  expect(first.map((one) => one.name)).toEqual([
    "supply_volt",
    "load_ampere",
    "plate_hz",
    "sections",
    "lamp",
    "load",
  ]);
});

test("inside of a list the fields of its worked rows come first", () => {
  const list = withExamples(fields, [worked]).find((one) => one.name === "sections");
  const row = list?.kind === "list" && list.item.kind === "group" ? list.item.fields : [];

  expect(row.map((one) => [one.name, one.first])).toEqual([
    ["name", true],
    ["taps", true],
  ]);
});

test("the answer's value has fields too", () => {
  expect(valueFieldsOf(calculator().answer)).toMatchObject([{ name: "fuse_ampere", unit: "A" }]);
});

test("an example is the worked case's own, else the one that fits any field of its kind", () => {
  const [, load, , , mark] = withExamples(fields, [{ load_ampere: 0.32 }]);
  expect([load?.examples, mark?.examples]).toEqual([[0.32], ["T160mAL250V"]]);

  const plate = withExamples(fields, [worked]).find((one) => one.name === "plate_hz");
  expect(plate?.kind === "list" && plate.item.examples).toEqual([50, 60]);
});
