import type { Entry, Pack, Step } from "$lib/api/work-shapes";
import { byStep, inOrder } from "./effective";
import { visibleSteps } from "./conditions";
import { cellIds, isGrid, isGridSettled } from "./grid";

export interface StepState {
  step: Step;
  /** Standing entries, oldest first. */
  entries: Entry[];
  settled: boolean;
  skipped: "skipped" | "not_applicable" | null;
  /** The first safety step before it that is unsettled or failed: nothing may be recorded here until then. */
  lockedBy: Step | null;
  /** The standing verdict of a look or reading; null without one. */
  verdict: string | null;
}
export interface WorksheetState {
  steps: StepState[];
  standing: Map<string, Entry[]>;
  /** Every entry there is, replaced ones too: what was recorded first stays to be seen. */
  byId: ReadonlyMap<string, Entry>;
  required: number;
  settled: number;
  failed: StepState[];
  outcome: "open" | "passed" | "failed";
}

function skipOf(entries: Entry[]): StepState["skipped"] {
  const last = entries.at(-1);
  return last?.kind === "skip"
    ? last.value["how"] === "not_applicable"
      ? "not_applicable"
      : "skipped"
    : null;
}

/** The verdict that stands on a step: the worst of a grid's cells, else that of the last entry. */
function verdictOf(step: Step, entries: Entry[]): string | null {
  if (step.kind === "look") {
    const chosen = entries.at(-1)?.value["choice"];
    return step.choices?.find((choice) => choice.key === chosen)?.verdict ?? null;
  }
  // Of a step, and of each cell of a grid, the last reading counts.
  const last = new Map(entries.filter((one) => one.kind === "reading").map((one) => [one.step, one]));
  const verdicts = new Set([...last.values()].map((one) => one.verdict ?? "not_judged"));
  const worst = ["fail", "meter_not_good_enough", "borderline", "not_judged", "pass"];
  return worst.find((verdict) => verdicts.has(verdict)) ?? null;
}

const KIND_THAT_SETTLES: Partial<Record<Step["kind"], Entry["kind"]>> = {
  caution: "acknowledge",
  instruction: "acknowledge",
  computed: "acknowledge",
  look: "choice",
  photo: "photo",
  take_part: "part",
  note: "note",
  sign_off: "sign_off",
};

function isSettled(
  step: Step,
  entries: Entry[],
  standing: Map<string, Entry[]>,
  verdict: string | null,
): boolean {
  const last = entries.at(-1);
  if (last?.kind === "skip" && !step.safety) return true;
  if (isGrid(step)) return isGridSettled(step, standing);
  if (!last) return false;
  if (step.kind === "reading") return last.kind === "reading" && !blockedBy(step, verdict);
  if (step.kind === "timer")
    return entries.some((entry) => entry.kind === "timer" && entry.value["ended_at"] != null);
  if (locksOn(step, last, verdict)) return false;
  return entries.some((entry) => entry.kind === KIND_THAT_SETTLES[step.kind]);
}

/** What changes nothing that was signed: words, pictures and other signatures. */
const WORDS_ONLY = new Set<Entry["kind"]>(["note", "photo", "finding", "sign_off"]);

/** Its place in the record; what the server has not seen yet comes last. */
const placeOf = (entry: Entry) => entry.seq ?? Infinity;

/** A signature stands for what its signer could see: what came in since asks for another. */
function isSignedTooEarly(step: Step, entries: Entry[], newest: number): boolean {
  const last = entries.at(-1);
  return step.kind === "sign_off" && last !== undefined && placeOf(last) < newest;
}

/** A failed safety look: nothing comes after it, unless its choice says that work goes on. */
function locksOn(step: Step, last: Entry, verdict: string | null): boolean {
  if (step.kind !== "look" || !step.safety || verdict !== "fail") return false;
  return step.choices?.find((choice) => choice.key === last.value["choice"])?.goes_on !== true;
}

/** A reading that must be right is settled only by a pass; one without limits has nothing to be wrong about. */
function blockedBy(step: Step, verdict: string | null): boolean {
  return step.blocks === true && step.band != null && verdict !== "pass";
}

/** What stands on a step, of a grid also in its cells, the last recorded last. */
function entriesOf(step: Step, standing: Map<string, Entry[]>): Entry[] {
  const own = standing.get(step.id) ?? [];
  return isGrid(step) ? inOrder([...cellIds(step).flatMap((cell) => standing.get(cell) ?? []), ...own]) : own;
}

/** The state of every step that counts now, from the pack and what was recorded. */
export function worksheetState(pack: Pack, entries: Entry[]): WorksheetState {
  const standing = byStep(entries);
  let lockedBy: Step | null = null;
  let newest = 0; // of what was recorded on the steps so far
  const steps: StepState[] = [];
  for (const step of visibleSteps(pack, standing)) {
    const own = entriesOf(step, standing);
    const verdict = verdictOf(step, own);
    const settled = isSettled(step, own, standing, verdict) && !isSignedTooEarly(step, own, newest);
    newest = Math.max(newest, ...own.filter((one) => !WORDS_ONLY.has(one.kind)).map(placeOf));
    steps.push({ step, entries: own, settled, skipped: skipOf(own), lockedBy, verdict });
    if (step.safety && step.required && !settled) lockedBy ??= step;
  }
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  return { steps, standing, byId, ...summary(steps) };
}

function summary(steps: StepState[]): Omit<WorksheetState, "steps" | "standing" | "byId"> {
  const needed = steps.filter((one) => one.step.required);
  const settled = needed.filter((one) => one.settled).length;
  const failed = steps.filter(
    (one) => one.verdict === "fail" && !one.skipped && one.step.phase !== "as_found",
  );
  const judgedAll = needed.every((one) => one.settled || one.verdict === "fail");
  const outcome = !judgedAll
    ? "open"
    : failed.length
      ? "failed"
      : settled === needed.length
        ? "passed"
        : "open";
  return { required: needed.length, settled, failed, outcome };
}

/** The step to show next: the first after `from` that is open and not locked, else the first of all. */
export function nextStep(state: WorksheetState, from: string | null): StepState | null {
  const open = (one: StepState) => !one.settled && !one.lockedBy && one.step.required;
  const index = state.steps.findIndex((one) => one.step.id === from);
  return state.steps.slice(index + 1).find(open) ?? state.steps.find(open) ?? null;
}
