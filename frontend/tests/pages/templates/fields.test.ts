import { cleanup, fireEvent, render, screen } from "@testing-library/svelte";
import { beforeEach, expect, test, vi } from "vitest";
import { flushSync, type Component } from "svelte";
import { isBlock, stepsOf, type Path, type TemplateBody, type Work } from "$lib/templates/body";

import { placeAt } from "$lib/templates/sources";
import "$lib/words/editor";
import { shipped } from "../../stand-ins/shipped";
import { rows, words } from "../../stand-ins/template-words";
import BlockForm from "../../../src/pages/templates/parts/BlockForm.svelte";
import FactForm from "../../../src/pages/templates/fields/FactForm.svelte";
import GateForm from "../../../src/pages/templates/fields/GateForm.svelte";
import HeadForm from "../../../src/pages/templates/fields/HeadForm.svelte";
import PartForm from "../../../src/pages/templates/fields/PartForm.svelte";
import StepFields from "../../../src/pages/templates/fields/StepFields.svelte";
import WorkForm from "../../../src/pages/templates/fields/WorkForm.svelte";

const HEAD = { facts: FactForm, gates: GateForm, parts: PartForm, work: WorkForm };
const at = (body: TemplateBody, path: Path) => placeAt(body, path, words(), rows());

beforeEach(() => {
  vi.stubGlobal("fetch", () => Promise.resolve(new Response(JSON.stringify({ results: [] }))));
});

/** Shows a form with everything unfolded, as somebody does who only looks. Answers what stands there. */
function look(form: unknown, props: Record<string, unknown>): string {
  render(form as Component<Record<string, unknown>>, props);
  for (const details of document.querySelectorAll("details")) {
    details.open = true;
    details.dispatchEvent(new Event("toggle"));
  }
  flushSync();
  const text = document.body.textContent;
  cleanup();
  return text;
}

/** Every form of a template, with the words that stand on each. */
function lookAtAll(body: TemplateBody, onchange: () => void): string[] {
  const props = { problems: [], onchange };
  const steps = stepsOf(body).map(({ step, path }) =>
    look(StepFields, { ...props, step, place: at(body, path) }),
  );
  const blocks = body.steps.flatMap((block, i) => {
    const here = ["steps", i];
    return isBlock(block)
      ? [look(BlockForm, { ...props, block, body, here, place: at(body, here), onshow: onchange })]
      : [];
  });
  const head = (["facts", "gates", "parts", "work"] as const).flatMap((part) =>
    (body[part] ?? []).map((value, i) => look(HEAD[part], { ...props, value, place: at(body, [part, i]) })),
  );
  return [
    ...steps,
    ...blocks,
    ...head,
    look(HeadForm, { ...props, value: body, place: at(body, ["about"]) }),
  ];
}

test.each(shipped())(
  "whoever opens every form of $slug and changes nothing leaves it as it was, and sees no braces",
  (body) => {
    const before = JSON.stringify(body);
    const changed = vi.fn();

    const texts = lookAtAll(body, changed);

    expect(changed).not.toHaveBeenCalled();
    expect(JSON.stringify(body)).toBe(before);
    for (const text of texts) expect(text).not.toMatch(/[{}[\]]|undefined|fields\.|asked\.[a-z]/);
  },
  60_000,
);

/** A form that is drawn anew with what it hands on, as on its page. */
function open<T>(form: unknown, start: T, place: (value: T) => unknown, name = "value") {
  let value = start;
  const props = () => ({ [name]: value, place: place(value), problems: [], onchange });
  function onchange(changed: T) {
    value = changed;
    void shown.rerender(props());
  }
  const shown = render(form as Component<Record<string, unknown>>, props());
  return { now: () => value };
}
const press = (name: string | RegExp, index = 0) =>
  fireEvent.click(screen.getAllByRole("button", { name })[index] as HTMLElement);
const type = (label: string | RegExp, value: string) =>
  fireEvent.input(screen.getByLabelText(label), { target: { value } });
const choose = (label: string, value: string) =>
  fireEvent.change(screen.getByRole("combobox", { name: label }), { target: { value } });
const unfold = (title: string | RegExp) => {
  const details = screen.getByText(title, { selector: "summary" }).closest("details") as HTMLDetailsElement;
  details.open = true;
  return fireEvent(details, new Event("toggle"));
};

const LOOK = {
  id: "cell",
  kind: "look" as const,
  title: "Which cell",
  choices: [
    { key: "primary", label: "Primary", verdict: null },
    { key: "rechargeable", label: "Rechargeable", verdict: null },
  ],
};
function bodyWith(step: TemplateBody["steps"][number]): TemplateBody {
  return {
    schema_version: 1,
    slug: "job",
    title: "Job",
    summary: "A job",
    minutes: 5,
    role: "tech",
    work: [{ name: "fuse", title: "The fuse", calculator: "fuses.test", given: {} }],
    steps: [LOOK, step],
  };
}
const openStep = (step: Exclude<TemplateBody["steps"][number], { steps: unknown }>) =>
  open(StepFields, step, (now) => at(bodyWith(now), ["steps", 1]), "step");

test("a limit is typed as techs write it and kept in the unit of the template", async () => {
  const form = openStep({ id: "r", kind: "reading", title: "Pin", quantity: "resistance", phase: "as_left" });

  await choose("Limits", "fixed");
  await choose("At least", "number");
  await type(/^Number/, "4k7");

  expect(form.now()).toMatchObject({ band: { low: 4700 } });
});

test("what is typed and is no number is said, and changes nothing", async () => {
  const band = { low: 4700 };
  const form = openStep({
    id: "r",
    kind: "reading",
    title: "Pin",
    quantity: "resistance",
    phase: "as_left",
    band,
  });

  await type(/^Number/, "4x7");

  expect(screen.getByLabelText(/^Number/).getAttribute("aria-invalid")).toBe("true");
  expect(form.now()).toMatchObject({ band: { low: 4700 } });
});

test("a value that is put into a text is written as its path, shown by its title", async () => {
  const form = openStep({ id: "n", kind: "note", title: "Note", text: "Tag:" });

  await press("Put in a value", 1);
  await press(/^Code$/);

  expect(form.now()).toMatchObject({ text: "Tag: {unit.code}" });
  expect(screen.getByDisplayValue("Tag: «Unit: Code»")).toBeTruthy();
});

test("a lone brace is told of where it is typed", async () => {
  openStep({ id: "n", kind: "note", title: "Note" });

  await type("What is to be done", "Push {gently");

  expect(screen.getByText(/Write it twice/)).toBeTruthy();
});

test("a condition on an earlier choice is made by choosing", async () => {
  const form = openStep({ id: "n", kind: "note", title: "Note" });

  await unfold("Only in some cases");
  await press("Add: Condition");
  await fireEvent.click(screen.getByLabelText("is not"));

  expect(form.now()).toMatchObject({ when: { not: { eq: ["cell", "primary"] } } });
});

test("a case of its own says something else after an answer, and goes again", async () => {
  const form = openStep({ id: "n", kind: "note", title: "Note", text: "As ever" });

  await unfold("Reads differently after some answers");
  await fireEvent.click(screen.getByLabelText("Which cell"));
  await fireEvent.change(screen.getByLabelText("Add a case: when"), { target: { value: "rechargeable" } });
  await press("Another text");
  await fireEvent.input(screen.getAllByLabelText("What is to be done")[1] as HTMLElement, {
    target: { value: "Open the path" },
  });

  expect(form.now()).toMatchObject({
    variants: { keys: ["cell"], cases: { rechargeable: { text: "Open the path" } } },
  });

  await press("Take this case away");

  expect(form.now()).not.toHaveProperty("variants");
});

test("what a form cannot change is shown as a sentence and kept", () => {
  const seconds = { largest: { list: [{ work: "fuse.value.fuse_ampere" }, { value: 60 }] } };
  const form = openStep({ id: "w", kind: "timer", title: "Wait", seconds });

  expect(screen.getByText(/the largest of a list: The fuse: Fuse; 60/)).toBeTruthy();
  expect(form.now()).toMatchObject({ seconds });
});

const work: Work = { name: "work", title: "", calculator: "", given: {} };
const openWork = (start: Work) =>
  open(WorkForm, start, (now) => at({ ...bodyWith(LOOK), work: [now] }, ["work", 0]));

test("choosing a calculator gives it what is known by name, and says what it still needs", async () => {
  const form = openWork(work);

  await press("Choose a calculator");
  await type("Search calculators", "fuse");
  await press(/^Fuse for a test/);

  expect(form.now()).toMatchObject({
    calculator: "fuses.test",
    name: "fuse_for_a_test",
    given: { supply_volt: { fact: "bench.supply_volt" } },
  });
  expect(screen.getByText(/^Still needed: /)).toBeTruthy();
});

test("a fact in another unit is turned into the one that is wanted", async () => {
  const form = openWork({ ...work, calculator: "fuses.test" });

  await choose("Supply", "known");
  await press(/^Bench in millivolts/);

  expect(form.now().given["supply_volt"]).toEqual({ fact: "bench.millivolt", times: 0.001 });
});

test("a question's name follows its words until something names it", async () => {
  const body = bodyWith(LOOK);
  const start = { key: "answer", title: "", quantity: "power" as const };
  const form = open(FactForm, start, (now) => at({ ...body, facts: [now] }, ["facts", 0]));

  await type("Question", "Idle power");

  expect(form.now()).toMatchObject({ key: "idle_power", title: "Idle power" });
});

test("what the check found stands beneath its field", () => {
  render(StepFields, {
    step: { id: "n", kind: "note", title: "", text: "x" },
    place: at(bodyWith(LOOK), ["steps", 1]),
    problems: [
      { path: ["title"], reason: "A title is needed." },
      { path: ["when_fact", "eq"], reason: "No such fact." },
      { path: ["odd"], reason: "Not a field of a step." },
    ],
    onchange: () => undefined,
  });

  expect(screen.getByLabelText("Title").getAttribute("aria-invalid")).toBe("true");
  for (const reason of ["A title is needed.", "No such fact.", "Not a field of a step."])
    expect(screen.getByText(reason)).toBeTruthy();
});
