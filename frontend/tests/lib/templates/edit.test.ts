import fc from "fast-check";
import { expect, test } from "vitest";
import { isBlock, stepsOf, type Path, type TemplateBody } from "$lib/templates/body";
import {
  addStep,
  dissolveBlock,
  duplicateStep,
  freeId,
  isChoiceNamed,
  isPathUsed,
  moveBy,
  moveStep,
  newStep,
  putIntoBlock,
  removeStep,
  renameAsked,
  renameChoice,
  renamePart,
  renameStep,
  renameWork,
  takenIds,
  usesOfStep,
} from "$lib/templates/edit";
import { rewritten } from "$lib/templates/rewrite";
import { shipped } from "../../stand-ins/shipped";

const bodies = fc.constantFrom(...shipped());
const index = fc.nat(1000);
/** Whole templates are compared: that takes its time. */
const FEWER = { numRuns: 30 };
/** Every place a step or a block stands at, those behind the last one too when something is to be put there. */
const placesIn = (body: TemplateBody, ends: 0 | 1): Path[] => {
  const inside = body.steps.flatMap((entry, i): Path[] =>
    isBlock(entry) ? range(entry.steps.length + ends).map((j) => ["steps", i, "steps", j]) : [],
  );
  return [...range(body.steps.length + ends).map((i): Path => ["steps", i]), ...inside];
};
const range = (count: number) => Array.from({ length: count }, (_one, i) => i);
const oneOf = <T>(things: T[], chosen: number) => things[chosen % things.length] as T;
const idsOf = (body: TemplateBody) => stepsOf(body).map(({ step }) => step.id);

/** Every step, choice, path and part that is named somewhere. */
function named(body: TemplateBody) {
  const found = {
    steps: new Set<string>(),
    choices: new Set<string>(),
    paths: new Set<string>(),
    parts: new Set<string>(),
  };
  rewritten(body, {
    step: (id) => (found.steps.add(id), id),
    choice: (step, key) => (found.choices.add(`${step}=${key}`), key),
    path: (path) => (found.paths.add(path), path),
    part: (key) => (found.parts.add(key), key),
  });
  return found;
}

test("a walk that changes no name leaves every shipped template as it is, order and all", () => {
  for (const body of shipped()) expect(JSON.stringify(rewritten(body, {}))).toBe(JSON.stringify(body));
});

test("every step that is named stands somewhere", () => {
  for (const body of shipped()) expect([...named(body).steps].sort()).toEqual([...takenIds(body)].sort());
});

test("renaming a step leaves nothing that names the old id, and changes no other name", () => {
  fc.assert(
    fc.property(bodies, index, (body, chosen) => {
      const id = oneOf(idsOf(body), chosen);

      const renamed = renameStep(body, id, "renamed_step");

      const wanted = [...named(body).steps].map((one) => (one === id ? "renamed_step" : one));
      expect([...named(renamed).steps].sort()).toEqual(wanted.sort());
      expect(renameStep(renamed, "renamed_step", id)).toEqual(body);
    }),
    FEWER,
  );
});

test("renaming a choice reaches conditions and variants, and is undone by renaming it back", () => {
  fc.assert(
    fc.property(bodies, index, (body, chosen) => {
      const looks = stepsOf(body).flatMap(({ step }) =>
        (step.choices ?? []).map((one) => [step.id, one.key] as const),
      );
      fc.pre(looks.length > 0);
      const [step, key] = oneOf(looks, chosen);

      const renamed = renameChoice(body, step, key, "renamed_choice");

      expect(named(renamed).choices.has(`${step}=${key}`)).toBe(false);
      expect(renameChoice(renamed, step, "renamed_choice", key)).toEqual(body);
    }),
    FEWER,
  );
});

test("renaming a calculation or a question reaches expressions, conditions and sentences", () => {
  for (const body of shipped()) {
    for (const { name } of body.work ?? []) {
      const renamed = renameWork(body, name, "another_work");
      expect([...named(renamed).paths].some((path) => `${path}.`.startsWith(`work.${name}.`))).toBe(false);
      expect(JSON.stringify(renamed)).not.toMatch(new RegExp(`\\{work\\.${name}\\.`));
      expect(renameWork(renamed, "another_work", name)).toEqual(body);
    }
    for (const { key } of body.facts ?? []) {
      const renamed = renameAsked(body, key, "another_fact");
      expect(named(renamed).paths.has(`asked.${key}`)).toBe(false);
      expect(renameAsked(renamed, "another_fact", key)).toEqual(body);
    }
    for (const { key } of body.parts ?? [])
      expect(renamePart(renamePart(body, key, "another_part"), "another_part", key)).toEqual(body);
  }
});

test("moving keeps every step, once", () => {
  fc.assert(
    fc.property(bodies, index, index, (body, from, to) => {
      const moved = moveStep(body, oneOf(placesIn(body, 0), from), oneOf(placesIn(body, 1), to));

      const sorted = (one: TemplateBody) =>
        stepsOf(one)
          .map(({ step }) => JSON.stringify(step))
          .sort();
      expect(sorted(moved.body)).toEqual(sorted(body));
    }),
  );
});

test("after a move the place that is told is where the step stands", () => {
  fc.assert(
    fc.property(bodies, index, index, (body, from, to) => {
      const start = oneOf(placesIn(body, 0), from);
      const entry = start.reduce<unknown>((inside, name) => (inside as never)[name], body);

      const moved = moveStep(body, start, oneOf(placesIn(body, 1), to));

      expect(moved.at.reduce<unknown>((inside, name) => (inside as never)[name], moved.body)).toEqual(entry);
    }),
  );
});

test("up and down again is where it was", () => {
  fc.assert(
    fc.property(bodies, index, (body, chosen) => {
      const path = oneOf(
        placesIn(body, 0).filter((one) => Number(one.at(-1)) > 0),
        chosen,
      );
      const up = moveBy(body, path, -1);

      expect(moveBy(up.body, up.at, 1)).toEqual({ body, at: path });
    }),
  );
});

test("the first step goes no higher and the last no lower", () => {
  const [body] = shipped() as [TemplateBody];
  const last: Path = ["steps", body.steps.length - 1];

  expect(moveBy(body, ["steps", 0], -1).body).toBe(body);
  expect(moveBy(body, last, 1).body).toBe(body);
});

test("a copy has ids of its own and names nothing that is not there", () => {
  fc.assert(
    fc.property(bodies, index, (body, chosen) => {
      const copied = duplicateStep(body, oneOf(placesIn(body, 0), chosen)).body;

      expect(new Set(idsOf(copied)).size).toBe(idsOf(copied).length);
      expect([...named(copied).steps].sort()).toEqual(idsOf(copied).sort());
    }),
  );
});

test("the copy of a block names the steps of the copy", () => {
  const body = bodyOf([
    {
      repeat: { over: "sheet.rails", as: "rail", max: 8 },
      steps: [
        {
          id: "seen",
          kind: "look",
          title: "Seen?",
          choices: [
            { key: "yes", label: "Yes" },
            { key: "no", label: "No" },
          ],
        },
        { id: "then", kind: "note", title: "Then", when: { eq: ["seen", "yes"] } },
      ],
    },
  ]);

  const copy = duplicateStep(body, ["steps", 0]).body.steps[1];

  expect(copy && isBlock(copy) ? copy.steps[1]?.when : null).toEqual({ eq: ["seen_2", "yes"] });
});

test("a step goes into a block and out again; a block goes into no block", () => {
  const body = bodyOf([
    { id: "one", kind: "note", title: "One" },
    {
      repeat: { over: "sheet.rails", as: "rail", max: 8 },
      steps: [{ id: "two", kind: "note", title: "Two" }],
    },
    {
      repeat: { over: "sheet.rails", as: "rail", max: 8 },
      steps: [{ id: "three", kind: "note", title: "Three" }],
    },
  ]);

  const inside = moveStep(body, ["steps", 0], ["steps", 1, "steps", 1]);
  const outside = moveStep(inside.body, inside.at, ["steps", 0]);

  expect(inside.at).toEqual(["steps", 0, "steps", 1]);
  expect(outside.body).toEqual(body);
  expect(moveStep(body, ["steps", 1], ["steps", 2, "steps", 0]).body).toBe(body);
});

test("a step put into a block of its own keeps its loop, and comes out of it again", () => {
  const repeat = { over: "sheet.rails", as: "rail", max: 8 };
  const body = bodyOf([{ id: "one", kind: "note", title: "One", repeat }]);

  const inside = putIntoBlock(body, ["steps", 0]);

  expect(inside.body.steps).toEqual([{ repeat, steps: [{ id: "one", kind: "note", title: "One" }] }]);
  expect(dissolveBlock(inside.body, ["steps", 0]).steps).toEqual([{ id: "one", kind: "note", title: "One" }]);
});

test("adding and taking away again changes nothing", () => {
  fc.assert(
    fc.property(bodies, index, (body, chosen) => {
      const added = addStep(body, oneOf(placesIn(body, 1), chosen), newStep(body, "look", "Something new"));

      expect(removeStep(added.body, added.at)).toEqual(body);
    }),
  );
});

test("an id comes from the title in plain letters, and never twice", () => {
  expect(freeId("Größe am Stift {unit.code}!", new Set())).toBe("grosse_am_stift");
  expect(freeId("Fuse", new Set(["fuse", "fuse_2"]))).toBe("fuse_3");
  expect(freeId("电", new Set())).toBe("step");
});

test("any title makes an id that the format takes", () => {
  fc.assert(
    fc.property(fc.string(), fc.array(fc.string()), (title, taken) => {
      const id = freeId(title, new Set(taken));

      expect(id).toMatch(/^[a-z0-9][a-z0-9_]{0,39}$/);
      expect(taken).not.toContain(id);
    }),
  );
});

test("what names a step, a choice or an answer is found before it goes", () => {
  const body = bodyOf([
    {
      id: "seen",
      kind: "look",
      title: "Seen?",
      choices: [
        { key: "yes", label: "Yes" },
        { key: "no", label: "No" },
      ],
    },
    { id: "then", kind: "note", title: "Then {asked.watt}", when: { eq: ["seen", "yes"] } },
  ]);
  body.facts = [
    { key: "watt", title: "Watts", quantity: "power" },
    { key: "spare", title: "Spare", quantity: "count" },
  ];

  expect(usesOfStep(body, "seen").map((step) => step.id)).toEqual(["then"]);
  expect(usesOfStep(body, "then")).toEqual([]);
  expect([isChoiceNamed(body, "seen", "yes"), isChoiceNamed(body, "seen", "no")]).toEqual([true, false]);
  expect([isPathUsed(body, "asked.watt"), isPathUsed(body, "asked.spare")]).toEqual([true, false]);
});

function bodyOf(steps: TemplateBody["steps"]): TemplateBody {
  return { schema_version: 1, slug: "job", title: "Job", summary: "A job", minutes: 5, role: "tech", steps };
}
