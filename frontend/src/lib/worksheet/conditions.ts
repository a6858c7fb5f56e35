import type { Condition, Entry, Pack, Step } from "$lib/api/work-shapes";
import { choiceOn } from "./effective";

type Standing = Map<string, Entry[]>;

/** Whether a condition holds. An unanswered look step makes what asks about it false. */
export function holds(condition: Condition, standing: Standing): boolean {
  if ("eq" in condition) return choiceOn(standing, condition.eq[0]) === condition.eq[1];
  if ("in" in condition) {
    const choice = choiceOn(standing, condition.in[0]);
    return choice !== null && condition.in[1].includes(choice);
  }
  if ("and" in condition) return condition.and.every((part) => holds(part, standing));
  return answered(condition.not, standing) && !holds(condition.not, standing);
}

function answered(condition: Condition, standing: Standing): boolean {
  if ("eq" in condition) return choiceOn(standing, condition.eq[0]) !== null;
  if ("in" in condition) return choiceOn(standing, condition.in[0]) !== null;
  if ("and" in condition) return condition.and.every((part) => answered(part, standing));
  return answered(condition.not, standing);
}

/** The step as it reads for the choices made: the fields of its variant replace its own. */
export function withVariant(step: Step, standing: Standing): Step {
  if (!step.variants) return step;
  const choices = step.variants.keys.map((key) => choiceOn(standing, key));
  const { cases } = step.variants;
  for (let count = choices.length; count > 0; count--) {
    const wanted = choices.slice(0, count);
    const found = wanted.includes(null) ? undefined : cases[wanted.join("|")];
    if (found) return { ...step, ...found, id: step.id, variants: null };
  }
  return step;
}

/** The steps that count now, in order, each as its variant has it. */
export function visibleSteps(pack: Pack, standing: Standing): Step[] {
  return pack.steps
    .filter((step) => !step.when || holds(step.when, standing))
    .map((step) => withVariant(step, standing));
}
