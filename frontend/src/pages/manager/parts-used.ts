import type { Board } from "$lib/api/shapes";

type Used = Board["parts_used"][number];
export interface UsedMonth {
  month: string;
  rows: (Used & { share: number })[];
}

/** Month by month, newest first, the most used first. `share` is of the highest figure of all, for the bars. */
export function usedByMonth(used: Used[]): UsedMonth[] {
  const highest = Math.max(1, ...used.map((row) => row.quantity));
  const months = [...new Set(used.map((row) => row.month))].sort().reverse();
  return months.map((month) => ({
    month,
    rows: used
      .filter((row) => row.month === month)
      .map((row) => ({ ...row, share: row.quantity / highest }))
      .sort((a, b) => b.quantity - a.quantity),
  }));
}
