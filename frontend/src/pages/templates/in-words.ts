// A template read aloud: every step, question, calculation and condition as sentences for who reviews it.
import { isQuantity, RULES } from "$lib/calc/quantities";
import type {
  AskedFact,
  Block,
  Choice,
  FixedLimits,
  Gate,
  NeededPart,
  Sentence,
  Step,
  Table,
  Work,
} from "$lib/templates/body";
import { saidBand, saidChoices, saidFacts, saidLoop, saidSource } from "$lib/templates/said";
import { inLanguage } from "$lib/templates/sentences";
import { shownText } from "$lib/templates/shown-text";
import type { Place } from "$lib/templates/sources";
import { currentLanguage, t, tn } from "$lib/words";

/** A sentence of the template with what will be filled in by its title: «Unit: make». */
export function read(sentence: Sentence | undefined, place: Place): string {
  return shownText(inLanguage(sentence, currentLanguage()), place.known);
}

function quantityTitle(quantity: Step["quantity"], place: Place): string {
  return place.words.quantities.find((one) => one.key === quantity)?.title ?? "";
}

/** All that a step says and asks, one sentence each; its title stands above them. */
export function stepSentences(step: Step, place: Place): string[] {
  return [
    read(step.text, place),
    ...(step.cautions ?? []).map((caution) => t("words.caution", { text: read(caution, place) })),
    ...asks(step, place),
    ...conditions(step, place),
    ...marks(step),
  ].filter(Boolean);
}

function asks(step: Step, place: Place): string[] {
  switch (step.kind) {
    case "look":
      return (step.choices ?? []).map((choice) => choiceSentence(choice, place));
    case "reading":
      return [readingSentence(step, place)];
    case "table":
      return step.table ? tableSentences(step.table, place) : [];
    case "ramp":
      return [
        t("words.ramp", {
          columns: (step.ramp?.columns ?? []).map((one) => read(one.title, place)).join(", "),
        }),
      ];
    case "take_part":
      return [
        t("words.part", { part: partName(step, place), quantity: saidSource(step.quantity as never, place) }),
      ];
    case "timer":
      return [t("words.timer", { time: saidSource(step.seconds, place, "s") })];
    case "sign_off":
      return [
        t(step.other_person ? "words.sign_other" : "words.sign", { role: t(`role.${step.role ?? "tech"}`) }),
      ];
    case "procedure":
      return [
        t("words.procedure", {
          template: step.procedure?.template ?? "",
          revision: step.procedure?.revision ?? t("words.newest"),
        }),
      ];
    default:
      return [];
  }
}

function choiceSentence({ label, verdict, text }: Choice, place: Place): string {
  const said = [read(label, place), verdict ? t(`verdict.${verdict}`) : ""].filter(Boolean).join(": ");
  return text ? `${said}. ${read(text, place)}` : said;
}

function readingSentence(step: Step, place: Place): string {
  const quantity = quantityTitle(step.quantity, place);
  const limits = saidBand(step.band, place, typeof step.quantity === "string" ? step.quantity : "");
  const phase = step.phase ? `, ${t(`phase.${step.phase}`)}` : "";
  const meters = (step.meter_kinds ?? []).map(
    (kind) => place.words.meter_kinds.find((one) => one.key === kind)?.title ?? kind,
  );
  const withMeter = meters.length ? ` ${t("words.with_meter", { meters: meters.join(", ") })}` : "";
  return `${quantity}${phase}: ${limits}.${withMeter}`;
}

function tableSentences({ rows, columns }: Table, place: Place): string[] {
  const head = columns.map(
    (column) =>
      `${read(column.title, place)} (${quantityTitle(column.quantity, place)}): ${saidBand(column.band, place, column.quantity)}.`,
  );
  if (!Array.isArray(rows)) return [...head, t("words.rows_for_each", { list: saidLoop(rows, place) })];
  const limits = (own: Record<string, FixedLimits>) =>
    Object.entries(own).map(([key, band]) => {
      const column = columns.find((one) => one.key === key);
      return `${read(column?.title, place)} ${saidBand(band, place, column?.quantity)}`;
    });
  const row = ({ title, limits: own }: (typeof rows)[number]) =>
    [read(title, place), ...(own ? limits(own) : [])].join(": ");
  return [...head, t("words.rows", { rows: rows.map(row).join("; ") })];
}

function partName(step: Step, place: Place): string {
  const part = place.body.parts?.find((one) => one.key === step.part);
  return part ? read(part.name, place) : (step.part ?? "");
}

function conditions(step: Step, place: Place): string[] {
  return [
    step.when ? t("words.when", { condition: saidChoices(step.when, place.looks) }) : "",
    step.when_fact ? t("words.when", { condition: saidFacts(step.when_fact, place) }) : "",
    step.repeat ? saidLoop(step.repeat, place) : "",
    step.work ? t("words.shows", { work: workTitle(step.work, place) }) : "",
    step.variants ? tn("words.variants", Object.keys(step.variants.cases).length) : "",
  ];
}

function workTitle(name: string, place: Place): string {
  const work = place.works.find((one) => one.name === name);
  return work ? read(work.title, place) : name;
}

function marks(step: Step): string[] {
  return [
    step.safety ? t("words.safety") : "",
    step.mains ? t("words.mains") : "",
    step.energised ? t("words.energised") : "",
    step.blocks ? t("words.blocks") : "",
    step.required === false ? t("words.optional") : "",
    step.pictures?.length ? tn("words.pictures", step.pictures.length) : "",
  ];
}

export const blockSentence = (block: Block, place: Place): string => saidLoop(block.repeat, place);

export function gateSentence({ when, reason }: Gate, place: Place): string {
  return t("words.gate", { condition: saidFacts(when, place), reason: read(reason, place) });
}

export function factSentence(fact: AskedFact, place: Place): string {
  const unit = fact.quantity && isQuantity(fact.quantity) ? RULES[fact.quantity].symbol : "";
  const answers = fact.choices?.map((choice) => read(choice.label, place)).join(" / ");
  const kind = answers ?? (fact.names ? t("words.names") : unit || t("words.number"));
  const from = fact.from ? ` ${t("words.from", { source: saidSource({ fact: fact.from }, place) })}` : "";
  return `${read(fact.title, place)} (${kind}).${from}`;
}

/** A calculation, and what it is given, one line each. */
export function workSentences(work: Work, place: Place): string[] {
  const calculator = place.calculators.find((one) => one.name === work.calculator)?.title ?? work.calculator;
  const given = Object.entries(work.given).map(
    ([name, source]) => `${inputTitle(work, name, place)}: ${saidSource(source, place)}`,
  );
  return [`${read(work.title, place)} (${calculator})`, ...given];
}

function inputTitle(work: Work, name: string, place: Place): string {
  const row = place.calculators.find((one) => one.name === work.calculator);
  return row?.input.properties?.[name]?.title ?? name.replaceAll("_", " ");
}

export function partSentence(part: NeededPart, place: Place): string {
  const code = part.order_code ? ` (${shownText(part.order_code, place.known)})` : "";
  return `${part.quantity} × ${read(part.name, place)}${code}`;
}
