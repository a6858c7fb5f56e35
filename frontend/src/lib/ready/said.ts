import { currentLanguage, formatNumber, t } from "$lib/words";
import "$lib/words/queue";

/** Bytes for people: whole kB, from a million on MB with one decimal. */
export function saidBytes(bytes: number): string {
  if (bytes < 1_000_000) return t("queue.kb", { size: formatNumber(Math.max(1, Math.round(bytes / 1000))) });
  return t("queue.mb", { size: formatNumber(Math.round(bytes / 100_000) / 10) });
}

/** Several things in one sentence: "a, b and c". */
export function saidList(things: string[]): string {
  return new Intl.ListFormat(currentLanguage(), { type: "conjunction" }).format(things);
}

/** Unit, its length and from when it is used: where the smaller unit would round up to a whole one. */
const UNITS = [
  ["day", 86_400_000, 84_600_000],
  ["hour", 3_600_000, 3_570_000],
  ["minute", 60_000, 0],
] as const;

/** How wrong the clock of this device is, in the largest unit that fits. */
export function saidClock(ahead: number): string {
  const far = Math.abs(ahead);
  const [unit, size] = UNITS.find(([, , from]) => far >= from) ?? UNITS[2];
  const options = { style: "unit", unit, unitDisplay: "long", maximumFractionDigits: 0 } as const;
  const by = new Intl.NumberFormat(currentLanguage(), options).format(far / size);
  return t(ahead > 0 ? "clock.fast" : "clock.slow", { by });
}
