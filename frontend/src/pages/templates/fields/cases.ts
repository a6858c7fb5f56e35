import type { StepFields, StepKind, Variants } from "$lib/templates/body";
import type { Look } from "$lib/templates/sources";
import { t } from "$lib/words";

const MOST = 64;
/** What can be said otherwise in a case: of any step, and of one kind. */
const ANY = ["title", "text", "cautions"] as const;
const OF_KIND: Partial<Record<StepKind, CaseField>> = {
  look: "choices",
  reading: "band",
  computed: "work",
  timer: "seconds",
  take_part: "part",
};
export type CaseField = (typeof ANY)[number] | "choices" | "band" | "work" | "seconds" | "part";

export function caseFieldsOf(kind: StepKind): CaseField[] {
  const own = OF_KIND[kind];
  return own ? [...ANY, own] : [...ANY];
}

/** What a case says beyond what can be written here. */
export function otherFields(changes: StepFields, kind: StepKind): string[] {
  const shown: string[] = [...caseFieldsOf(kind), ...(kind === "take_part" ? ["quantity"] : [])];
  return Object.keys(changes).filter((name) => !shown.includes(name));
}

const lookOf = (id: string, looks: Look[]) => looks.find((one) => one.id === id);
const choicesOf = (id: string, looks: Look[]) => lookOf(id, looks)?.choices ?? [];

/** The answers of a case in words: "Which cell: rechargeable, Board: opened". */
export function titleOfCase(chosen: string, keys: string[], looks: Look[]): string {
  const answers = chosen.split("|").map((key, i) => {
    const id = keys[i] ?? "";
    const title = choicesOf(id, looks).find((one) => one.key === key)?.title ?? key;
    return t("fields.variants.answer", { what: lookOf(id, looks)?.title ?? id, answer: title });
  });
  return answers.join(` ${t("fields.said.and")} `);
}

/** The answers for which nothing is said yet. */
export function openCases({ keys, cases }: Variants, looks: Look[]): { key: string; label: string }[] {
  const [first, second] = keys;
  if (first === undefined || Object.keys(cases).length >= MOST) return [];
  const starts = choicesOf(first, looks).map(({ key }) => key);
  const all =
    second === undefined
      ? starts
      : starts.flatMap((start) => choicesOf(second, looks).map(({ key }) => `${start}|${key}`));
  return all
    .filter((chosen) => !Object.hasOwn(cases, chosen))
    .map((chosen) => ({ key: chosen, label: titleOfCase(chosen, keys, looks) }));
}
