import type { CalculatorRow } from "$lib/calculators/shapes";

export interface Area {
  key: string;
  title: string;
  rows: CalculatorRow[];
}

/** The calculators by area, in the server's order. */
export function areasOf(rows: CalculatorRow[]): Area[] {
  const areas: Area[] = [];
  for (const row of rows) {
    const last = areas.at(-1);
    if (last?.key === row.area.key) last.rows.push(row);
    else areas.push({ ...row.area, rows: [row] });
  }
  return areas;
}

/** What was searched for stands in the address, so that going back finds the list as it was. */
export function searchedIn(hash: string): string {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return "";
  }
}

export const searchHash = (typed: string) => (typed ? `#${encodeURIComponent(typed)}` : "");
