export function formatNumberIn(language: string, value: number): string {
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
