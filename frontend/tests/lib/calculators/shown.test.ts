import { expect, test } from "vitest";
import { drawingsIn, withoutDrawings } from "$lib/calculators/drawings";
import { fieldsOf } from "$lib/calculators/fields";
import { givenIn, hashOf } from "$lib/calculators/link";
import { rowsOf } from "$lib/calculators/rows";
import { hintOf } from "../../../src/pages/calculators/hints";
import type { Schema } from "$lib/calculators/shapes";
import { everything, worked } from "../../stand-ins/calculators";

const drawing = {
  title: "Joined",
  width: 1,
  height: 1,
  text_height: 1,
  lines: [],
  coils: [],
  dots: [],
  labels: [],
};
const fields = fieldsOf(everything);
const hint = (name: string) => {
  const found = fields.find((field) => field.name === name);
  return found ? hintOf(found) : null;
};

test("what was asked is said in rows of label and value, with units", () => {
  expect(rowsOf(fields, worked).map(({ label, value }) => `${label}: ${value}`)).toEqual([
    "Supply: 230 V",
    "Load: 160 mA",
    "Frequencies: 50 Hz, 60 Hz",
    "Sections 1, Name: A",
    "Sections 1, Taps: 115",
    "Lamp, Lamp watt: 60 W",
    "Load: Constant power",
    "Load, Power: 30 W",
  ]);
});

test("a hint says what is meant, an example, and what is taken when nothing is typed", () => {
  expect(hint("load_ampere")).toBe("As measured. For example 160\u00a0mA.");
  expect(hint("margin_percent")).toBe("Left out: 10\u00a0%.");
  expect(hint("position")).toBe("Left out: one fuse in the line.");
  expect(hint("supply_volt")).toBe("");
});

test("an example in microfarads says how a phone types it", () => {
  const shape: Schema = {
    type: "object",
    properties: { farad: { type: "number", examples: [4.7e-4], "x-unit": "F" } },
  };
  const [farad] = fieldsOf(shape);

  expect(farad && hintOf(farad)).toBe("For example 470\u00a0µF, typed 470u.");
});

test("a link brings its inputs back; what is no input brings none", () => {
  expect(givenIn(hashOf({ mark: "T2A #1 %", list: [1] }))).toEqual({ mark: "T2A #1 %", list: [1] });
  for (const hash of ["", "#", "#answer", "#%7B", "#%", "#[1]", "#null"]) expect(givenIn(hash)).toBeNull();
});

test("every drawing of a value is found by the name of its field; the rest are figures", () => {
  const value = {
    arrangements: [
      { rated_volt: 230, drawing },
      { rated_volt: 115, drawing: null },
    ],
    drawing_now: drawing,
  };

  expect(drawingsIn(value).map((one) => one.name)).toEqual(["drawing", "drawing_now"]);
  expect(withoutDrawings(value)).toEqual({
    arrangements: [
      { rated_volt: 230, drawing: null },
      { rated_volt: 115, drawing: null },
    ],
    drawing_now: null,
  });
});
