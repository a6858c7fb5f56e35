// What can be named at one place of a template, in words: facts, what is asked, earlier answers, the loop around.
import { RULES, isQuantity } from "$lib/calc/quantities";
import { humanised, valueFieldsOf, type Field } from "$lib/calculators/fields";
import type { CalculatorRow } from "$lib/calculators/shapes";
import { currentLanguage, t } from "$lib/words";
import type { AskedFact, Choice, Loop, Path, Plain, Step, TemplateBody, Work } from "./body";
import { stepsOf } from "./body";
import type { NamedFact, TemplateWords } from "./named";
import { plainKnown, readable, type Known, type KnownType } from "./known";
import { inLanguage } from "./sentences";

export * from "./known";

/** An earlier step whose choice can be asked about. */
export interface Look {
  id: string;
  title: string;
  safety: boolean;
  choices: { key: string; title: string }[];
}
export interface EarlierReading {
  id: string;
  title: string;
  quantity: string;
}
/** One place of a template and what can be named there. */
export interface Place {
  body: TemplateBody;
  words: TemplateWords;
  calculators: CalculatorRow[];
  known: Known[];
  looks: Look[];
  readings: EarlierReading[];
  /** Calculations whose answer a step here can show. */
  works: Work[];
  loop: Loop | null;
  /** Whether a caution stands before. */
  hasCaution: boolean;
}

/** The place of what stands at a path: `["steps", 3]`, `["work", 1]`, `["facts", 0]`, `["gates", 0]`. */
export function placeAt(
  body: TemplateBody,
  path: Path,
  words: TemplateWords,
  calculators: CalculatorRow[],
): Place {
  const works = earlierWork(body, path);
  const loop = loopAt(body, path);
  const fixed = [...words.facts.flatMap((fact) => knownFact(fact)), ...askedBefore(body, path)];
  const answers = works.flatMap((work) => answersOf(work, calculators, loop, fixed));
  const outside = [...fixed, ...answers];
  const known = loop ? [...rowOf(loop, outside), ...outside] : outside;
  return { body, words, calculators, known, works, loop, ...earlierSteps(body, path, known) };
}

// Facts

function knownFact(fact: NamedFact): Known[] {
  const group = groupOf(fact.path);
  if (fact.type === "object" && fact.rows?.length)
    return fact.rows.flatMap((row) => knownFact({ ...row, path: within(fact.path, row.path) }));
  return [
    {
      path: fact.path,
      title: fact.title,
      group,
      type: fact.type,
      quantity: fact.quantity ?? null,
      unit: fact.unit ?? null,
      choices: fact.choices ?? [],
      rows: (fact.rows ?? []).flatMap((row) => knownFact({ ...row, path: rowName(fact.path, row.path) })),
    },
  ];
}

const within = (outer: string, inner: string) =>
  inner.startsWith(`${outer}.`) ? inner : `${outer}.${inner}`;
/** Rows are named from the row on, whether or not the list's own path stands before. */
const rowName = (list: string, row: string) =>
  row.startsWith(`${list}.`) ? row.slice(list.length + 1) : row;

const GROUPS = ["unit", "sheet", "repair", "supply", "bench", "shop", "today"] as const;

function groupOf(path: string): string {
  const root = path.split(".")[0];
  const group = GROUPS.find((one) => one === root);
  return group ? t(`fields.known.${group}`) : (root ?? "");
}

// What is asked

function askedBefore({ facts = [] }: TemplateBody, path: Path): Known[] {
  const before = path[0] === "facts" ? facts.slice(0, Number(path[1])) : facts;
  return before.map(knownAsked);
}

function knownAsked(fact: AskedFact): Known {
  const language = currentLanguage();
  const rule = fact.quantity && isQuantity(fact.quantity) ? RULES[fact.quantity] : null;
  return {
    path: `asked.${fact.key}`,
    title: inLanguage(fact.title, language) || fact.key,
    group: t("fields.known.asked"),
    type: fact.names ? "list" : fact.choices ? "choice" : "number",
    quantity: fact.quantity ?? null,
    unit: rule?.symbol ?? null,
    choices: (fact.choices ?? []).map(({ key, label, value }) => ({
      key: value ?? key,
      title: inLanguage(label, language),
    })),
    rows: fact.names ? [plainKnown("name", t("fields.known.name"), "text")] : [],
  };
}

// Answers of earlier calculations

function earlierWork({ work = [] }: TemplateBody, path: Path): Work[] {
  if (path[0] === "facts") return [];
  return path[0] === "work" ? work.slice(0, Number(path[1])) : work;
}

/** What a calculation answers. One that runs over a list can be named only in a loop over the same list. */
function answersOf(work: Work, calculators: CalculatorRow[], loop: Loop | null, fixed: Known[]): Known[] {
  const looped = work.for_each !== undefined && work.for_each.over !== loop?.over;
  const root = `work.${work.name}`;
  const row = calculators.find((one) => one.name === work.calculator);
  const inside = work.for_each ? [...rowOf(work.for_each, fixed), ...fixed] : fixed;
  const group = readable(work.title, inside) || work.name;
  const fields = row
    ? valueFieldsOf(row.answer).flatMap((field) => knownField(field, `${root}.value`, ""))
    : [];
  const outcome = {
    ...plainKnown(`${root}.outcome`, t("fields.known.outcome"), "choice"),
    choices: outcomes(),
  };
  const said = plainKnown(`${root}.text`, t("fields.known.text"), "text");
  const beside = looped ? { group, looped } : { group };
  return [...fields, said, outcome].map((one) => ({ ...one, ...beside }));
}

const outcomes = () =>
  (["ok", "warn", "refuse", "no_answer"] as const).map((key) => ({ key, title: t(`outcome.${key}`) }));

const TYPES: Record<Field["kind"], KnownType> = {
  number: "number",
  text: "text",
  choice: "choice",
  flag: "yes_no",
  group: "object",
  list: "list",
  either: "object",
  free: "object",
};

/** A field of an answer; what is inside of a group is named after it. */
function knownField(field: Field, inside: string, before: string): Known[] {
  const path = inside ? `${inside}.${field.name}` : field.name;
  const own = titleOfField(field);
  const title = before ? `${before}, ${own}` : own;
  if (field.kind === "group") return field.fields.flatMap((one) => knownField(one, path, title));
  const unit = field.kind === "number" ? field.unit : null;
  return [
    {
      ...plainKnown(path, title, TYPES[field.kind]),
      unit,
      quantity: unit ? quantityOf(unit, path) : null,
      choices:
        field.kind === "choice"
          ? field.options.map((one) => ({ key: one.value as Plain, title: one.label }))
          : [],
      rows: field.kind === "list" ? rowsOf(field.item) : [],
    },
  ];
}

/** What a field of an answer is called. One that is named after its unit says it twice: "Most earth ohm" in Ω. */
export function titleOfField({ kind, name, title }: Field): string {
  const isOwn = kind !== "number" || title !== humanised(name);
  return isOwn ? title : title.replace(UNIT_AT_END, "");
}
const UNIT_AT_END = / (volt|ampere|milliampere|ohm|farad|watt|hz|percent|seconds|a|v)$/i;

const rowsOf = (item: Field) =>
  item.kind === "group" ? item.fields.flatMap((one) => knownField(one, "", "")) : [];

/** A quantity that is counted in a unit. Volts and amperes may be of either kind: then there is none. */
function quantityOf(unit: string, path: string): string | null {
  const fitting = Object.entries(RULES).filter(([, rule]) => rule.symbol === unit || rule.unit === unit);
  if (fitting.length === 1) return fitting[0]?.[0] ?? null;
  return fitting.find(([name]) => path.includes(name))?.[0] ?? null;
}

// The loop around

function loopAt(body: TemplateBody, path: Path): Loop | null {
  if (path[0] === "work") return body.work?.[Number(path[1])]?.for_each ?? null;
  if (path[0] !== "steps") return null;
  return body.steps[Number(path[1])]?.repeat ?? null;
}

/** What the loop's row holds, by the name that the loop gives it. */
export function rowOf(loop: { over: string; as: string }, known: Known[]): Known[] {
  const list = known.find((one) => one.path === loop.over);
  const named = (one: Known): Known => ({
    ...one,
    path: `${loop.as}.${one.path}`,
    group: t("fields.known.row"),
  });
  if (list?.type === "number") return [named(plainKnown("number", t("fields.known.turn"), "number"))];
  return (list?.rows ?? []).map(named);
}

/** The place inside of a loop of its own, such as the rows of a table. */
export function insideOf(place: Place, loop: Loop): Place {
  if (!loop.over) return place;
  const isOfLoop = (one: Known) =>
    place.works.some(
      (work) => work.for_each?.over === loop.over && one.path.startsWith(`work.${work.name}.`),
    );
  const outside = place.known.map((one) => (isOfLoop(one) ? { ...one, looped: false } : one));
  return { ...place, loop, known: [...rowOf(loop, outside), ...outside] };
}

// Earlier steps

type Earlier = Pick<Place, "looks" | "readings" | "hasCaution">;

function earlierSteps(body: TemplateBody, path: Path, known: Known[]): Earlier {
  const steps = path[0] === "steps" ? stepsOf(body).filter((one) => isBefore(one.path, path)) : [];
  const before = steps.map(({ step }) => step);
  return {
    looks: before.filter((step) => step.kind === "look").map((step) => lookOf(step, known)),
    readings: before.filter((step) => step.kind === "reading").map((step) => readingOf(step, known)),
    hasCaution: before.some((step) => step.kind === "caution"),
  };
}

function isBefore(one: Path, other: Path): boolean {
  const [[a, b], [c, d]] = [one, other].map((path) => [Number(path[1]), Number(path[3] ?? -1)]) as [
    [number, number],
    [number, number],
  ];
  return a < c || (a === c && b < d);
}

function lookOf(step: Step, known: Known[]): Look {
  const named = (choice: Choice) => ({ key: choice.key, title: readable(choice.label, known) });
  const inCases = Object.values(step.variants?.cases ?? {}).flatMap((one) => one.choices ?? []);
  const all = [...(step.choices ?? []), ...inCases].map(named);
  const choices = all.filter((one, i) => all.findIndex((other) => other.key === one.key) === i);
  return { id: step.id, title: readable(step.title, known), safety: step.safety ?? false, choices };
}

const readingOf = (step: Step, known: Known[]): EarlierReading => ({
  id: step.id,
  title: readable(step.title, known),
  quantity: typeof step.quantity === "string" ? step.quantity : "",
});
