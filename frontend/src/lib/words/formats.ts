/** Written alike in every language here: a slow phone needs 80 ms for its first formatter, mostly to say "3". */
const isShort = (value: number) => Number.isInteger(value) && value >= 0 && value < 1000;

export function formatNumberIn(language: string, value: number): string {
  if (isShort(value)) return String(value);
  return new Intl.NumberFormat(language).format(value);
}

/** Money as the server's sentences write it: the amount, then the currency's code ("65.09 EUR"). */
export function formatMoneyIn(
  language: string,
  minor: number,
  currency: string,
  minorDigits: number,
): string {
  const style = { minimumFractionDigits: minorDigits, maximumFractionDigits: minorDigits };
  return `${new Intl.NumberFormat(language, style).format(minor / 10 ** minorDigits)}\u00a0${currency}`;
}

/** Days are written as the server writes them: the day before the month, also in English. */
const dayStyleOf = (language: string) => (language === "en" ? "en-GB" : language);

export function formatDayIn(language: string, iso: string): string {
  const day = new Date(iso.length === 10 ? `${iso}T12:00:00` : iso);
  const style = { weekday: "short", day: "numeric", month: "short" } as const;
  return new Intl.DateTimeFormat(dayStyleOf(language), style).format(day);
}

export function formatMomentIn(language: string, iso: string): string {
  const style = {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  } as const;
  return new Intl.DateTimeFormat(dayStyleOf(language), style).format(new Date(iso));
}

/** The time alone while it is today, written alike in every language here; else with its day. */
export function formatLatelyIn(language: string, iso: string, now = new Date()): string {
  const at = new Date(iso);
  if (at.toDateString() !== now.toDateString()) return formatMomentIn(language, iso);
  return [at.getHours(), at.getMinutes()].map((part) => String(part).padStart(2, "0")).join(":");
}

/** A day with its year, for what is looked up years later: "1 Sept 2026". */
export function formatDateIn(language: string, iso: string): string {
  const day = new Date(iso.length === 10 ? `${iso}T12:00:00` : iso);
  return new Intl.DateTimeFormat(dayStyleOf(language), { dateStyle: "medium" }).format(day);
}

/** A moment to the second, with its year: for the record. */
export function formatExactlyIn(language: string, iso: string): string {
  const style = { dateStyle: "medium", timeStyle: "medium", hourCycle: "h23" } as const;
  return new Intl.DateTimeFormat(dayStyleOf(language), style).format(new Date(iso));
}
