import type { Entry, Step } from "$lib/api/work-shapes";
import { isQuantity } from "$lib/calc/quantities";
import { formatReading } from "$lib/calc/readings";
import { t, tMaybe } from "$lib/words";

/** A value of an entry as text; empty where it has none. */
export function textOf(entry: Entry, key: string): string {
  const value = entry.value[key];
  return typeof value === "string" || typeof value === "number" ? String(value) : "";
}

/** The choice an entry made, as the step offered it. */
export function choiceMade(entry: Entry, step: Step | undefined) {
  if (entry.kind !== "choice") return undefined;
  return step?.choices?.find((one) => one.key === textOf(entry, "choice"));
}

function readingSaid(entry: Entry): string {
  const exact = entry.value["value_text"];
  if (typeof exact !== "string")
    return tMaybe(`reading.${textOf(entry, "state")}`, textOf(entry, "as_typed"));
  const quantity = textOf(entry, "quantity");
  return isQuantity(quantity) ? formatReading(exact, quantity) : `${exact} ${textOf(entry, "unit")}`;
}

/** What an entry says, in words. */
export function saidOf(entry: Entry, step: Step | undefined): string {
  const text = (key: string) => textOf(entry, key);
  switch (entry.kind) {
    case "choice":
      return choiceMade(entry, step)?.label ?? text("choice");
    case "reading":
      return readingSaid(entry);
    case "skip":
      return `${tMaybe(`step.skip.${text("how")}`, text("how"))}: ${text("reason")}`;
    case "finding":
      return `${tMaybe(`finding.${text("finding")}`, text("finding"))}: ${text("text")}`;
    case "note":
      return text("text");
    case "part":
      return t("entry.part", { quantity: text("quantity"), part: step?.part?.name ?? text("part") });
    case "photo":
      return text("caption") || t("entry.photo");
    default:
      return t(`entry.${entry.kind}`);
  }
}

/** A reading on the limits it was judged by: the shop's judgement once it is there, the phone's until then. null where it
 *  had none or there is no number. */
export function gaugeFor(entry: Entry) {
  const judged = (entry.value["judged"] ?? entry.value) as Record<string, unknown>;
  const number = (key: string) => (typeof judged[key] === "number" ? judged[key] : null);
  const [low, high, exact] = [number("low"), number("high"), entry.value["value_text"]];
  if (entry.kind !== "reading" || typeof exact !== "string" || (low === null && high === null)) return null;
  const guard = judged["rule"] === "simple" ? null : number("expanded_uncertainty");
  return { low, high, unit: textOf(entry, "unit"), value: Number(exact), guard, verdict: entry.verdict };
}
