/** Exact decimals as text, as the server keeps them: no exponent, no plus, no needless zeros, no minus before zero. */
interface Exact {
  negative: boolean;
  digits: bigint;
  /** Power of ten of the last digit. */
  power: number;
}

function read(text: string): Exact {
  const negative = text.startsWith("-");
  const [whole = "", fraction = ""] = text.replace(/^[+-]/, "").split(".");
  return { negative, digits: BigInt(`${whole}${fraction}` || "0"), power: -fraction.length };
}

function write({ negative, digits, power }: Exact): string {
  if (digits === 0n) return "0";
  let text = digits.toString();
  if (power > 0) text += "0".repeat(power);
  if (power < 0) {
    text = text.padStart(1 - power, "0");
    text = `${text.slice(0, power)}.${text.slice(power)}`.replace(/\.?0+$/, "");
  }
  return negative ? `-${text}` : text;
}

/** The one spelling of a decimal number. */
export function canonical(text: string): string {
  return write(read(text));
}

/** The number times ten to a power, exactly. */
export function shifted(text: string, power: number): string {
  const exact = read(text);
  return write({ ...exact, power: exact.power + power });
}

/** The number times a whole factor, exactly. */
export function times(text: string, factor: number): string {
  const exact = read(text);
  return write({ ...exact, digits: exact.digits * BigInt(factor) });
}

/** How many digits stand after the point of a canonical text. */
export function decimalsOf(text: string): number {
  return text.split(".")[1]?.length ?? 0;
}

/** The power of ten of the first digit that is not zero; 0 for zero. */
export function powerOf(text: string): number {
  const { digits, power } = read(text);
  return digits === 0n ? 0 : digits.toString().length - 1 + power;
}

/** Rounded to significant digits, halves away from zero. */
export function significant(text: string, wanted: number): string {
  const exact = read(text);
  const extra = exact.digits.toString().length - wanted;
  if (extra <= 0) return write(exact);
  const unit = 10n ** BigInt(extra);
  const digits = (exact.digits + unit / 2n) / unit;
  return write({ ...exact, digits, power: exact.power + extra });
}
