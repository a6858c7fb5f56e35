import type { EstimateLine } from "$lib/api/shapes";
import { moneyOrNull, writeMoney } from "./money";

/** One line as typed. */
export interface TypedLine {
  text: string;
  quantity: string;
  price: string;
}
export const emptyLine = (): TypedLine => ({ text: "", quantity: "1", price: "" });

export function typedLines(lines: EstimateLine[], minorDigits: number): TypedLine[] {
  return lines.map(({ text, quantity, price_minor }) => ({
    text,
    quantity: String(quantity),
    price: writeMoney(price_minor, minorDigits),
  }));
}

const isBlank = (line: TypedLine) => !line.text.trim() && !line.price.trim();

/** The lines to send, blank ones left out; null where one cannot be read. */
export function linesToSend(typed: TypedLine[], minorDigits: number): EstimateLine[] | null {
  const lines = typed.filter((line) => !isBlank(line)).map((line) => lineOf(line, minorDigits));
  const good = lines.filter((line) => line !== null);
  return lines.length && good.length === lines.length ? good : null;
}

function lineOf({ text, quantity, price }: TypedLine, minorDigits: number): EstimateLine | null {
  const price_minor = moneyOrNull(price, minorDigits);
  if (!text.trim() || price_minor === null || !/^[1-9]\d{0,3}$/.test(quantity.trim())) return null;
  return { text: text.trim(), quantity: Number(quantity), price_minor };
}

/** What the lines add up to, before tax; null while one cannot be read. */
export function sumOf(typed: TypedLine[], minorDigits: number): number | null {
  const lines = linesToSend(typed, minorDigits);
  return lines && lines.reduce((sum, line) => sum + line.quantity * line.price_minor, 0);
}
