// Edits of a template. Each takes a body and gives another; what is not touched is the same object as before.
import {
  isBlock,
  stepsOf,
  type Block,
  type Path,
  type Step,
  type StepEntry,
  type StepKind,
  type TemplateBody,
} from "./body";
import { rewritten, rewrittenStep, type Names } from "./rewrite";
import { t } from "$lib/words";

/** A body after an edit, and where what was edited stands now. */
export interface Edited {
  body: TemplateBody;
  at: Path;
}
const LONGEST = { step: 60, key: 40 };

/** The value at a path; undefined where nothing is. */
export function valueAt(inside: unknown, path: Path): unknown {
  return path.reduce<unknown>(
    (value, name) => (value as Record<string | number, unknown> | null)?.[name],
    inside,
  );
}

/** The same with another value at a path. */
export function withValueAt<T>(inside: T, path: Path, value: unknown): T {
  const [name, ...rest] = path;
  if (name === undefined) return value as T;
  const changed = (Array.isArray(inside) ? [...(inside as unknown[])] : { ...inside }) as Record<
    string | number,
    unknown
  >;
  changed[name] = withValueAt(changed[name], rest, value);
  if (value === undefined && !rest.length && !Array.isArray(changed)) delete changed[name];
  return changed as T;
}

const listAt = (body: TemplateBody, path: Path) => (valueAt(body, path.slice(0, -1)) ?? []) as StepEntry[];
const indexOf = (path: Path) => Number(path.at(-1));

/** Puts a step, or a block, before what stands at a path. */
export function addStep(body: TemplateBody, path: Path, entry: StepEntry): Edited {
  const steps = listAt(body, path).toSpliced(indexOf(path), 0, entry);
  return { body: withValueAt(body, path.slice(0, -1), steps), at: path };
}

export function removeStep(body: TemplateBody, path: Path): TemplateBody {
  return withValueAt(body, path.slice(0, -1), listAt(body, path).toSpliced(indexOf(path), 1));
}

/** A second one below the first, under ids of its own; inside a block its steps name each other anew. */
export function duplicateStep(body: TemplateBody, path: Path): Edited {
  const entry = valueAt(body, path) as StepEntry;
  const taken = takenIds(body);
  const ids = new Map((isBlock(entry) ? entry.steps : [entry]).map(({ id }) => [id, another(id, taken)]));
  const copy = rewrittenStep(structuredClone(entry), { step: (id) => ids.get(id) ?? id });
  return addStep(body, [...path.slice(0, -1), indexOf(path) + 1], copy);
}

/** Moves what stands at `from` before what stands at `to`. Both are paths before the move. A block goes into no block. */
export function moveStep(body: TemplateBody, from: Path, to: Path): Edited {
  const entry = valueAt(body, from) as StepEntry;
  if (isBlock(entry) && to.length > 2) return { body, at: from };
  // Placed first and taken away after: until then both paths mean what they meant.
  const placed = addStep(body, to, entry).body;
  return { body: removeStep(placed, shiftedBy(from, to, 1)), at: shiftedBy(to, from, -1) };
}

/** Where a path leads once a step was put in (1) or taken out (-1) at another. */
function shiftedBy(path: Path, other: Path, by: 1 | -1): Path {
  const depth = other.length - 1;
  const isBeside = path.length > depth && other.slice(0, -1).every((name, i) => path[i] === name);
  const at = Number(path[depth]);
  const isAfter = by === 1 ? at >= indexOf(other) : at > indexOf(other);
  return isBeside && isAfter ? path.with(depth, at + by) : path;
}

/** One place up or down in its own list. At the end of it nothing changes. */
export function moveBy(body: TemplateBody, path: Path, by: 1 | -1): Edited {
  const wanted = indexOf(path) + by;
  if (wanted < 0 || wanted >= listAt(body, path).length) return { body, at: path };
  const to = [...path.slice(0, -1), by === 1 ? wanted + 1 : wanted];
  return moveStep(body, path, to);
}

/** The step becomes the first of a new block. Its own loop is the block's. */
export function putIntoBlock(body: TemplateBody, path: Path): Edited {
  const { repeat, ...step } = valueAt(body, path) as Step;
  const block: Block = { repeat: repeat ?? { over: "", as: "row", max: 8 }, steps: [step] };
  return { body: withValueAt(body, path, block), at: [...path, "steps", 0] };
}

/** The steps of a block without the block, each worked once. */
export function dissolveBlock(body: TemplateBody, path: Path): TemplateBody {
  const { steps } = valueAt(body, path) as Block;
  return withValueAt(body, path.slice(0, -1), listAt(body, path).toSpliced(indexOf(path), 1, ...steps));
}

/** A step of a kind as it begins: nothing in it that nobody asked for. */
export function newStep(body: TemplateBody, kind: StepKind, title: string): Step {
  return { id: freeId(title, takenIds(body)), kind, title, ...beginnings()[kind] };
}

function beginnings(): Partial<Record<StepKind, Partial<Step>>> {
  return {
    look: {
      choices: [
        { key: "good", label: t("fields.choice.good"), verdict: "pass" },
        { key: "bad", label: t("fields.choice.bad"), verdict: "fail" },
      ],
    },
    reading: { quantity: "voltage_dc", phase: "as_found", rule: "simple", meter_kinds: ["multimeter"] },
    take_part: { part: "", quantity: 1 },
    computed: { work: "" },
    timer: { seconds: 60 },
    sign_off: { role: "tech", other_person: true },
    ramp: { ramp: { rows: { list: [] }, dwell_seconds: 60, columns: [] } },
    table: { phase: "as_found", rule: "simple", table: { rows: [], columns: [] } },
    procedure: { procedure: { template: "" } },
  };
}

// Names

export function takenIds(body: TemplateBody): Set<string> {
  return new Set(stepsOf(body).map(({ step }) => step.id));
}

/** An id from a title that nothing else has: "Volts at the pin" is `volts_at_the_pin`. */
export function freeId(title: string, taken: ReadonlySet<string>, longest = LONGEST.key): string {
  const ascii = title.normalize("NFKD").replaceAll(/\p{M}/gu, "").replaceAll("ß", "ss").toLowerCase();
  const words = ascii.replaceAll(/\{[^}]*\}/g, " ").replaceAll(/[^a-z0-9]+/g, "_");
  const name = words.slice(0, longest - 3).replaceAll(/^_+|_+$/g, "") || "step";
  return taken.has(name) ? another(name, taken) : name;
}

/** The name with the first number that makes it its own: `fuse`, `fuse_2`, `fuse_3`. */
function another(name: string, taken: ReadonlySet<string>): string {
  const stem = name.replace(/_\d+$/, "").slice(0, LONGEST.key - 4);
  for (let n = 2; ; n++) if (!taken.has(`${stem}_${String(n)}`)) return `${stem}_${String(n)}`;
}

export function renameStep(body: TemplateBody, from: string, to: string): TemplateBody {
  return rewritten(body, { step: (id) => (id === from ? to : id) });
}

export function renameChoice(body: TemplateBody, step: string, from: string, to: string): TemplateBody {
  return rewritten(body, { choice: (of, key) => (of === step && key === from ? to : key) });
}

export function renamePart(body: TemplateBody, from: string, to: string): TemplateBody {
  return rewritten(body, { part: (key) => (key === from ? to : key) });
}

export const renameWork = (body: TemplateBody, from: string, to: string) =>
  renamePath(body, `work.${from}`, `work.${to}`);

export const renameAsked = (body: TemplateBody, from: string, to: string) =>
  renamePath(body, `asked.${from}`, `asked.${to}`);

function renamePath(body: TemplateBody, from: string, to: string): TemplateBody {
  const isInside = (path: string) => path === from || path.startsWith(`${from}.`);
  return rewritten(body, { path: (path) => (isInside(path) ? to + path.slice(from.length) : path) });
}

/** The steps that name a step, by id: what would point to nothing if it went. */
export function usesOfStep(body: TemplateBody, id: string): Step[] {
  return stepsOf(body)
    .map(({ step }) => step)
    .filter((step) => step.id !== id && namedBy(step).has(id));
}

function namedBy(step: Step): Set<string> {
  const named = new Set<string>();
  rewrittenStep(step, { step: (id) => (named.add(id), id) });
  return named;
}

/** Whether anything in the template names this path or something inside of it. */
export function isPathUsed(body: TemplateBody, path: string): boolean {
  const isInside = (one: string) => one === path || one.startsWith(`${path}.`);
  return isNamedBeside(body, (found) => ({ path: (one) => (found(isInside(one)), one) }));
}

/** Whether a condition or a variant names a choice of a step. */
export function isChoiceNamed(body: TemplateBody, step: string, key: string): boolean {
  return isNamedBeside(body, (found) => ({ choice: (of, one) => (found(of === step && one === key), one) }));
}

/** Whether a step takes this part. */
export function isPartTaken(body: TemplateBody, key: string): boolean {
  return isNamedBeside(body, (found) => ({ part: (one) => (found(one === key), one) }));
}

/** Whether something is named more often than once: where it is defined it stands too. */
function isNamedBeside(body: TemplateBody, watching: (found: (is: boolean) => void) => Names): boolean {
  let times = 0;
  rewritten(
    body,
    watching((is) => (times += Number(is))),
  );
  return times > 1;
}
