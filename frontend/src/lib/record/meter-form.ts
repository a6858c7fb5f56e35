// A meter as it is typed: texts until it is sent, so that what was typed is never lost.
import type { Quantity } from "$lib/calc/quantities";
import type { MeterFull } from "./shapes";

export interface AccuracyTyped {
  quantity: Quantity;
  percent: string;
  counts: string;
  resolution: string;
  range_end: string;
}
export interface MeterTyped {
  name: string;
  serial: string;
  kinds: string[];
  accuracy: AccuracyTyped[];
  retired_on: string;
}

const text = (value: number | null | undefined) => (value == null ? "" : String(value));

export function typedOf(meter: MeterFull | null): MeterTyped {
  return {
    name: meter?.name ?? "",
    serial: meter?.serial ?? "",
    kinds: [...(meter?.kinds ?? ["multimeter"])],
    retired_on: meter?.retired_on ?? "",
    accuracy: (meter?.accuracy ?? []).map((row) => ({
      quantity: row.quantity as Quantity,
      percent: text(row.percent),
      counts: text(row.counts),
      resolution: text(row.resolution),
      range_end: text(row.range_end),
    })),
  };
}

export const NO_ROW: Omit<AccuracyTyped, "quantity"> = {
  percent: "",
  counts: "0",
  resolution: "0",
  range_end: "",
};

/** A number with point or comma; null for what is none, or is below nothing. */
export function numberIn(typed: string): number | null {
  const value = Number(typed.trim().replace(",", "."));
  return typed.trim() && Number.isFinite(value) && value >= 0 ? value : null;
}

export type MeterWrong = Map<string, "number" | "blank">;

/** What is sent, or where it cannot be read: `accuracy.2.percent`, `name`, `kinds`. */
export function meterBody(typed: MeterTyped): { body: Record<string, unknown> } | { wrong: MeterWrong } {
  const wrong: MeterWrong = new Map();
  if (!typed.name.trim()) wrong.set("name", "blank");
  if (!typed.kinds.length) wrong.set("kinds", "blank");
  const accuracy = typed.accuracy.map((row, index) => {
    const needed = (name: "percent" | "counts" | "resolution") => {
      const value = numberIn(row[name]);
      if (value === null) wrong.set(`accuracy.${String(index)}.${name}`, "number");
      return value;
    };
    const end = row.range_end.trim() ? numberIn(row.range_end) : null;
    if (row.range_end.trim() && end === null) wrong.set(`accuracy.${String(index)}.range_end`, "number");
    return {
      quantity: row.quantity,
      percent: needed("percent"),
      counts: needed("counts"),
      resolution: needed("resolution"),
      range_end: end,
    };
  });
  if (wrong.size) return { wrong };
  const { name, serial, kinds, retired_on } = typed;
  return {
    body: { name: name.trim(), serial: serial.trim(), kinds, accuracy, retired_on: retired_on || null },
  };
}
