import { expect, test } from "vitest";
import type { TemplateBody } from "$lib/templates/body";
import { proposals } from "$lib/templates/givens";
import { saidBand, saidChoices, saidFacts, saidLoop, saidSource } from "$lib/templates/said";
import { fromKnown, kindOf } from "$lib/templates/source-kinds";
import { insideOf, knownAt, listsIn, placeAt, searched, titleOf, type Known } from "$lib/templates/sources";
import { factorBetween } from "$lib/templates/units";
import { fieldsOf } from "$lib/calculators/fields";
import "$lib/words/editor";
import { rows, words } from "../../stand-ins/template-words";

const body: TemplateBody = {
  schema_version: 1,
  slug: "job",
  title: "Job",
  summary: "A job",
  minutes: 5,
  role: "tech",
  facts: [
    { key: "watt", title: "Idle power", quantity: "power" },
    { key: "turns", title: "Turns", quantity: "count" },
    { key: "parts", title: "Which parts", names: true },
  ],
  work: [
    { name: "fuse", title: "The fuse", calculator: "fuses.test", given: {} },
    {
      name: "rail_fuse",
      title: "Fuse of {rail.name}",
      calculator: "fuses.test",
      given: {},
      for_each: { over: "sheet.rails", as: "rail", max: 8 },
    },
  ],
  steps: [
    { id: "begin", kind: "caution", title: "Unplug it" },
    {
      id: "seen",
      kind: "look",
      title: "Fuse {work.fuse.value.fuse_ampere|current_ac}",
      choices: [
        { key: "right", label: "Right" },
        { key: "wrong", label: "Wrong" },
      ],
    },
    {
      repeat: { over: "sheet.rails", as: "rail", max: 8 },
      steps: [{ id: "volts", kind: "reading", title: "Volts", quantity: "voltage_dc", phase: "as_left" }],
    },
    { id: "end", kind: "note", title: "End" },
  ],
};
const at = (...path: (string | number)[]) => placeAt(body, path, words(), rows());
const paths = (known: Known[]) => known.map((one) => one.path);
const offered = (known: Known[]) => paths(Object.values(searched(known, "")).flat());

test("a question sees only those before it, a calculation only earlier ones, a step all of both", () => {
  expect(paths(at("facts", 1).known)).toContain("asked.watt");
  expect(paths(at("facts", 1).known)).not.toContain("asked.turns");
  expect(paths(at("work", 0).known)).not.toContain("work.fuse.text");
  expect(offered(at("steps", 3).known)).toContain("work.fuse.value.fuse_ampere");
});

test("what is worked out for each of a list can be named inside that loop only, and is told of elsewhere", () => {
  const inside = at("steps", 2, "steps", 0).known;
  const outside = at("steps", 3).known;

  expect(offered(inside)).toContain("work.rail_fuse.value.fuse_ampere");
  expect(offered(outside)).not.toContain("work.rail_fuse.value.fuse_ampere");
  expect(titleOf(outside, "work.rail_fuse.value.fuse_ampere")).toBe("Fuse of «Name»: Fuse");
});

test("inside of a loop the row is named by the loop's own name; a number has turns", () => {
  const known = at("steps", 2, "steps", 0).known;

  expect(titleOf(known, "rail.volt")).toBe("This row: Volts");
  expect(paths(listsIn(known))).toEqual(["sheet.rails", "asked.turns", "asked.parts"]);
  expect(offered(insideOf(at("steps", 3), { over: "asked.turns", as: "turn", max: 8 }).known)).toContain(
    "turn.number",
  );
  expect(offered(insideOf(at("steps", 3), { over: "asked.parts", as: "part", max: 8 }).known)).toContain(
    "part.name",
  );
});

test("earlier looks and readings, and whether a caution stands before, are those before the step", () => {
  expect(at("steps", 0).hasCaution).toBe(false);
  expect(at("steps", 3)).toMatchObject({
    hasCaution: true,
    looks: [{ id: "seen", title: "Fuse «Fuse»" }],
    readings: [{ id: "volts", quantity: "voltage_dc" }],
  });
});

test("what fits in quantity or unit is offered first, found by any of its words", () => {
  const wanted = { types: ["number" as const], quantity: "voltage_dc" };

  const found = searched(at("steps", 3).known, "bench", wanted);

  expect(paths(found.fitting)).toEqual(["bench.supply_volt", "bench.millivolt"]);
  expect(paths(searched(at("steps", 3).known, "idle", wanted).others)).toContain("sheet.idle_watt");
});

test("a row of a list by its number, and a path that is unknown, are told as far as they can be", () => {
  const { known } = at("steps", 3);

  expect(knownAt(known, "sheet.rails.0.volt")?.title).toBe("Rails, number 1, Volts");
  expect(titleOf(known, "sheet.gone")).toBe("sheet.gone");
});

test("units that differ by a prefix only are turned into each other, others are not", () => {
  expect([factorBetween("mA", "A"), factorBetween("F", "µF"), factorBetween("ohm", "kΩ")]).toEqual([
    1e-3, 1e6, 1e-3,
  ]);
  expect([factorBetween("V", "A"), factorBetween("m", "mm"), factorBetween("V", "V")]).toEqual([
    null,
    1000,
    1,
  ]);
});

test("what is picked is said in the unit that is wanted; whether it may be lacking stays", () => {
  const millivolt = knownAt(at("steps", 3).known, "bench.millivolt") as Known;

  const said = fromKnown(millivolt, { quantity: "voltage_dc" }, { fact: "x", times: 3, optional: true });

  expect(said).toEqual({ fact: "bench.millivolt", times: 0.001, optional: true });
});

test("an input is given what alone has its name and unit, first of all what was asked", () => {
  const input = (name: string, unit: string) => ({
    properties: { [name]: { type: "number", "x-unit": unit } },
  });
  const { known } = at("work", 0);

  expect(proposals(fieldsOf(input("watt", "W")), known)).toEqual({
    watt: { fact: "asked.watt", optional: true },
  });
  expect(proposals(fieldsOf(input("supply_volt", "A")), known)).toEqual({});
});

test("plain ways of saying a value are told from deeper ones", () => {
  expect(kindOf(5)).toBe("number");
  expect(kindOf({ fact: "sheet.idle_watt", times: 2 })).toBe("known");
  expect(kindOf({ first: [{ fact: "asked.watt" }, { value: 5 }] })).toBe("else");
  expect(kindOf({ largest: { list: [] } })).toBe("complex");
  expect(kindOf({ first: [{ object: {} }] })).toBe("complex");
});

test("values, conditions, limits and loops are said as sentences", () => {
  const place = at("steps", 3);

  expect(saidSource({ first: [{ fact: "asked.watt", times: 2 }, { value: 60 }] }, place, "W")).toBe(
    "Asked at the start: Idle power, × 2 or, if that is not known, 60 W",
  );
  expect(saidSource({ each: { over: "sheet.rails", as: "r", take: { fact: "r.volt" } } }, place)).toBe(
    "for each of Model sheet: Rails: This row: Volts",
  );
  expect(
    saidFacts(
      { and: [{ known: "unit.code" }, { not: { eq: ["sheet.supply_kind", "switch_mode"] } }] },
      place,
    ),
  ).toBe("Unit: Code is known and Model sheet: Kind of supply is not Switch-mode");
  expect(saidChoices({ not: { in: ["seen", ["right", "wrong"]] } }, place.looks)).toBe(
    "Fuse «Fuse» is not Right or Wrong",
  );
  expect(saidBand({ low: -0.1, high: { work: "fuse.value.fuse_ampere" } }, place, "current_dc")).toBe(
    "at least -100 mA, at most The fuse: Fuse",
  );
  expect(saidLoop({ over: "sheet.rails", as: "rail", max: 8 }, place)).toBe(
    "For each of: Model sheet: Rails (8 at most)",
  );
});
