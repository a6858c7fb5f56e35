// Values and limits of the record as people read them.
import { isQuantity } from "$lib/calc/quantities";
import { formatReading } from "$lib/calc/readings";
import { t } from "$lib/words";

/** A canonical decimal in its quantity's unit: "1.23 kΩ"; of no known quantity, the bare text and unit. */
export function shown(text: string, quantity: string, unit: string): string {
  return isQuantity(quantity) ? formatReading(text, quantity) : `${text} ${unit === "1" ? "" : unit}`.trim();
}

/** Limits in words: "4.75 V – 5.25 V", "at most 5 V"; empty without any. */
export function limitsShown(low: string | null, high: string | null, quantity: string, unit: string): string {
  const from = low === null ? null : shown(low, quantity, unit);
  const to = high === null ? null : shown(high, quantity, unit);
  if (from === null) return to === null ? "" : t("gauge.at_most", { high: to });
  return to === null ? t("gauge.at_least", { low: from }) : `${from} – ${to}`;
}
