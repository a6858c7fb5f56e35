import * as fc from "fast-check";
import { expect, test } from "vitest";
import { draftsOf, inputFrom, pathsOf, placeOf, type Drafts } from "$lib/calculators/draft";
import { fieldsOf } from "$lib/calculators/fields";
import { CalculatorForm } from "$lib/calculators/form.svelte";
import type { Schema } from "$lib/calculators/shapes";
import { calculator, everything, worked } from "../../stand-ins/calculators";

const fields = fieldsOf(everything);
const form = () => new CalculatorForm(calculator());
const filled = () => {
  const one = form();
  one.fill(worked);
  return one;
};

test("a worked case that is filled in asks exactly the worked case", () => {
  expect(inputFrom(fields, draftsOf(fields, worked))).toEqual({ given: worked, troubles: {} });
});

test("an empty form names each field that is needed, and no other", () => {
  const { troubles } = inputFrom(fields, draftsOf(fields));

  expect(Object.keys(troubles).sort()).toEqual(["load.ohm", "plate_hz[0]", "supply_volt"]);
});

test("what stands at its default is left out of what is asked", () => {
  const drafts: Drafts = { ...draftsOf(fields, worked), margin_percent: "10 %", position: "common_line" };

  expect(inputFrom(fields, drafts).given).toEqual(worked);
});

test("numbers, choices and yes-or-no are sent as the schema wants them", () => {
  const more = { count: "3", position: "winding", is_heater: true, is_measured: "false", mark: " T2A " };

  const { given } = inputFrom(fields, { ...draftsOf(fields, worked), ...more });

  expect(given).toMatchObject({
    count: 3,
    position: "winding",
    is_heater: true,
    is_measured: false,
    mark: "T2A",
  });
});

test("what cannot be read is told at its path, as the server writes it", () => {
  const one = filled();
  one.put(["sections", 0, "taps", 0], "1,234");
  one.put(["mark"], "Q2");
  one.put(["count"], "1.5");

  expect(one.read()).toBeNull();
  expect(one.trouble(["sections", 0, "taps", 0])).toContain("thousands");
  expect(one.trouble(["mark"])).toContain("T160mAL250V");
  expect(one.trouble(["count"])).toBe("This is a whole number.");
});

test("mending a field takes its sentence away, and no other", () => {
  const one = form();
  one.read();

  one.put(["supply_volt"], "230");

  expect(Object.keys(one.troubles).sort()).toEqual(["load.ohm", "plate_hz[0]"]);
});

test("rows come and go", () => {
  const one = filled();
  const list = one.fields.find((field) => field.name === "sections");
  if (list?.kind !== "list") throw new Error("no list");

  one.addRow(list, ["sections"]);
  one.put(["sections", 1, "name"], "B");
  one.dropRow(["sections"], 0);

  expect(one.read()).toMatchObject({ sections: [{ name: "B" }] });
});

test("another kind asks its own fields", () => {
  const one = filled();
  const load = one.fields.find((field) => field.name === "load");
  if (load?.kind !== "either") throw new Error("no union");

  one.choose(load, ["load"], "resistance");
  expect(one.read()).toBeNull();
  one.put(["load", "ohm"], "1k2");

  expect(one.read()).toMatchObject({ load: { kind: "resistance", ohm: 1200 } });
});

test("a part that may be left out is left out, and comes back empty", () => {
  const one = filled();

  one.put(["lamp"], null);

  expect(one.read()).not.toHaveProperty("lamp");
});

test("a sentence of the server stands at its field, or at the nearest that is shown", () => {
  const shown = pathsOf(fields, draftsOf(fields, worked));

  expect(placeOf("sections[0].taps", shown)).toBe("sections[0].taps");
  expect(placeOf("sections[3].taps[1]", shown)).toBe("sections");
  expect(placeOf("load.kind", shown)).toBe("load.kind");
  expect(placeOf("load.ohm", shown)).toBe("load");
  expect(placeOf("input", shown)).toBe("");
});

test("whatever a link brings, the form stands it and says what it cannot use", () => {
  const part = fc.constantFrom(
    "supply_volt",
    "mark",
    "position",
    "plate_hz",
    "sections",
    "lamp",
    "load",
    "odd",
  );
  const one = form();

  fc.assert(
    fc.property(fc.dictionary(part, fc.jsonValue()), (given) => {
      one.fill(given);
      const read = one.read();

      expect(read === null).toBe(Object.keys(one.troubles).length > 0);
    }),
  );
});

test("a pattern that only the server can read refuses nothing here", () => {
  const field = fieldsOf({ properties: { mark: { type: "string", pattern: "(?P<a>x)" } } });

  expect(inputFrom(field, { mark: "T2A" })).toEqual({ given: { mark: "T2A" }, troubles: {} });
});

test("folded fields matter once something in them is typed or wrong", () => {
  const one = form();
  const more = one.fields.filter((field) => !field.first);
  expect(one.matters(more, [])).toBe(false);

  one.refuse([{ field: "count", code: "bad_input", detail: "No." }]);
  expect(one.matters(more, [])).toBe(true);

  one.put(["count"], "2");
  expect(one.matters(more, [])).toBe(true);
});

const bands: Schema = {
  type: "object",
  properties: {
    bands: { type: "array", items: { enum: ["red", "black", "gold"] }, minItems: 1, maxItems: 6 },
  },
  required: ["bands"],
};

test("choices of a list begin with as many rows as the worked case; rows left open are not asked", () => {
  const example = { bands: ["red", "red", "black", "gold"] };
  const one = new CalculatorForm(calculator({ input: bands, example }));
  expect(one.at(["bands"])).toEqual(["", "", "", ""]);
  expect(one.read()).toBeNull();
  expect(one.trouble(["bands", 0])).toBe("This is needed.");

  for (const [row, band] of ["red", "black", "gold"].entries()) one.put(["bands", row], band);

  expect(one.read()).toEqual({ bands: ["red", "black", "gold"] });
  expect(one.troubles).toEqual({});
});
