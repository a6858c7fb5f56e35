/** What was typed is no amount in this currency. */
export class NoAmount extends Error {}

/**
 * Reads an amount as typed, "12,50" or "12.50" or "1 250", into whole minor units, exactly and without floating point.
 * One mark only, before at most as many digits as the currency has: "1.250" is refused, not guessed at.
 */
export function readMoney(typed: string, minorDigits: number): number {
  const text = typed.replace(/[\s\u00a0\u202f']/g, "");
  const parts = /^(\d+)(?:[.,](\d*))?$/.exec(text);
  const [, whole = "", fraction = ""] = parts ?? [];
  if (!parts || fraction.length > minorDigits) throw new NoAmount();
  const minor = Number(whole + fraction.padEnd(minorDigits, "0"));
  if (!Number.isSafeInteger(minor)) throw new NoAmount();
  return minor;
}

/** Whole minor units as one would type them: 1250 is "12.50". */
export function writeMoney(minor: number, minorDigits: number): string {
  if (!minorDigits) return String(minor);
  const digits = String(Math.abs(minor)).padStart(minorDigits + 1, "0");
  const sign = minor < 0 ? "-" : "";
  return `${sign}${digits.slice(0, -minorDigits)}.${digits.slice(-minorDigits)}`;
}

/** The amount, or null where the text is none. An empty text is zero. */
export function moneyOrNull(typed: string, minorDigits: number): number | null {
  if (!typed.trim()) return 0;
  try {
    return readMoney(typed, minorDigits);
  } catch (error) {
    if (error instanceof NoAmount) return null;
    throw error;
  }
}
