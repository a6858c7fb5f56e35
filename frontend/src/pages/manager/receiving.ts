import type { Order } from "$lib/api/shapes";
import { readCode } from "$lib/calc/codes";

/** What is entered for one line while goods are received. */
export interface ReceivedLine {
  part: string;
  quantity: string;
  bin: string;
}

/** The rest of each line that is still to come, ready to be entered; `bins` gives the usual bin of a part. */
export function linesToReceive(order: Order, bins: Record<string, string>): ReceivedLine[] {
  return order.lines
    .map((line) => ({ ...line, open: line.quantity - (line.received ?? 0) }))
    .filter((line) => line.open > 0)
    .map(({ part, open }) => ({ part, quantity: String(open), bin: bins[part] ?? "" }));
}

export type ReceiveWrong = { at: number; field: "quantity" | "bin" };

/** The lines to send, those with nothing left out. Or which line cannot be read. */
export function receivedBody(
  lines: ReceivedLine[],
): { lines: { part: string; quantity: number; bin: string }[] } | ReceiveWrong {
  const sent: { part: string; quantity: number; bin: string }[] = [];
  for (const [at, line] of lines.entries()) {
    const typed = line.quantity.trim();
    if (!typed || typed === "0") continue;
    if (!/^\d{1,6}$/.test(typed)) return { at, field: "quantity" };
    const bin = binCode(line.bin);
    if (!bin) return { at, field: "bin" };
    sent.push({ part: line.part, quantity: Number(typed), bin });
  }
  return { lines: sent };
}

function binCode(typed: string): string | null {
  try {
    const code = readCode(typed);
    return code.kind === "bin" ? code.text : null;
  } catch {
    return null;
  }
}
