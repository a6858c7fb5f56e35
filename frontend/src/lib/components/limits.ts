import type { Limits } from "$lib/calc/judge";
import { formatValue } from "$lib/calc/readings";
import { t } from "$lib/words";

/** Limits in a few characters, for a cell; empty without any. `unit` as the server names it. */
export function limitsText({ low, high }: Limits, unit: string): string {
  if (low === null) return high === null ? "" : t("gauge.at_most", { high: formatValue(high, unit) });
  if (high === null) return t("gauge.at_least", { low: formatValue(low, unit) });
  return `${formatValue(low, unit)} … ${formatValue(high, unit)}`;
}
