import type { CalculatorRow } from "$lib/calculators/shapes";

export interface Area {
  key: string;
  title: string;
  rows: CalculatorRow[];
}

/** The calculators that hold every word typed, by area, in the server's order. */
export function areasOf(rows: CalculatorRow[], typed: string): Area[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const areas: Area[] = [];
  for (const row of rows) {
    const text = `${row.area.title} ${row.title} ${row.question} ${row.name}`.toLowerCase();
    if (!words.every((word) => text.includes(word))) continue;
    const last = areas.at(-1);
    if (last?.key === row.area.key) last.rows.push(row);
    else areas.push({ ...row.area, rows: [row] });
  }
  return areas;
}
