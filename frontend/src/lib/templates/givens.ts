// How the inputs of a calculation can be said, by what each of them is.
import type { Field } from "$lib/calculators/fields";
import type { Expression, Loop, Work } from "./body";
import { kindOf } from "./source-kinds";
import { fits, isOfType, pickable, type Known, type Wanted } from "./sources";
import { factorBetween } from "./units";

/** `parts`: each field of a group by itself; `rows`: written row by row; `each`: one for each of a list. */
export type GivenWay = "none" | "typed" | "known" | "parts" | "rows" | "each" | "complex";

/** The ways an input of a kind can be said. Numbers have their own input. */
export function waysOf(field: Field): Exclude<GivenWay, "complex">[] {
  switch (field.kind) {
    case "group":
      return ["none", "parts", "known"];
    case "list":
      return ["none", "known", "each", "rows"];
    case "either":
    case "free":
      return ["none", "known"];
    default:
      return ["none", "typed", "known"];
  }
}

/** The way in which an expression says it. What none of them is stays as it is. */
export function wayOf(said: Expression | undefined, field: Field): GivenWay {
  if (!said) return "none";
  if (kindOf(said) === "known") return "known";
  const ways: GivenWay[] = waysOf(field);
  if (said.object && ways.includes("parts")) return "parts";
  if (said.list && ways.includes("rows")) return "rows";
  if (said.each && !said.each.when && ways.includes("each")) return "each";
  return "value" in said && ways.includes("typed") && isTyped(said.value, field) ? "typed" : "complex";
}

function isTyped(value: unknown, field: Field): boolean {
  if (field.kind === "choice") return field.options.some((one) => one.value === value);
  return field.kind === "flag" ? typeof value === "boolean" : typeof value === "string";
}

/** What an input begins with once a way is chosen; nothing while something must be picked first. */
export function beginningOf(way: GivenWay, field: Field): Expression | undefined {
  if (way === "parts") return { object: {} };
  if (way === "rows") return { list: [] };
  if (way !== "typed") return undefined;
  if (field.kind === "flag") return { value: true };
  return field.kind === "choice" ? { value: field.options[0]?.value } : { value: "" };
}

/** What fits an input. */
export function wantedBy(field: Field): Wanted {
  switch (field.kind) {
    case "number":
      return { types: ["number"], unit: field.unit };
    case "choice":
      return { types: ["choice", "text", "yes_no", "number"] };
    case "flag":
      return { types: ["yes_no", "choice"] };
    case "text":
      return { types: ["text", "choice", "number"] };
    case "list":
      return { types: ["list"] };
    default:
      return { types: ["object"] };
  }
}

/** What an input is given where one known thing has its very name, and its unit. */
export function proposed(field: Field, known: Known[]): Expression | undefined {
  const wanted = wantedBy(field);
  const sameName = (one: Known) => one.path.split(".").at(-1) === field.name;
  const named = pickable(known).filter((one) => sameName(one) && isOfType(one, wanted) && fits(one, wanted));
  // What was asked on this day says more than what is noted about the model.
  const best =
    named.find((one) => one.path.startsWith("asked.")) ?? (named.length === 1 ? named[0] : undefined);
  return best && expressionFor(best, field);
}

/** An expression for something known; one that need not be given may be left out where it is not known. */
export function expressionFor({ path, unit }: Known, field: Field): Expression {
  const times = field.kind === "number" && unit ? factorBetween(unit, field.unit) : null;
  return {
    ...(path.startsWith("work.") ? { work: path.slice(5) } : { fact: path }),
    ...(times === null || times === 1 ? {} : { times }),
    ...(field.required ? {} : { optional: true }),
  };
}

/** What a calculator is given at first: what is known by the name of its inputs. */
export function proposals(fields: Field[], known: Known[]): Work["given"] {
  const found = fields.map((field) => [field.name, proposed(field, known)] as const);
  return Object.fromEntries(
    found.filter((pair): pair is readonly [string, Expression] => pair[1] !== undefined),
  );
}

/** Inputs without which nothing can be worked out, and that are not given. */
export function missingIn(fields: Field[], given: Work["given"]): Field[] {
  return fields.filter((field) => field.required && given[field.name] === undefined);
}

/** A loop over a list inside of an expression. */
export const loopOf = (each: NonNullable<Expression["each"]>): Loop => ({
  over: each.over,
  as: each.as,
  max: 32,
});
