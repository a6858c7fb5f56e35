import type { Board } from "$lib/api/shapes";

type Week = Board["turnaround"]["weeks"][number];
export interface Bar {
  week: string;
  closed: number;
  median: number | null;
  x: number;
  y: number;
  height: number;
}
export interface Plot {
  bars: Bar[];
  barWidth: number;
  ticks: { value: number; y: number }[];
  /** Every how many weeks a label fits. */
  labelEvery: number;
}

const STEPS = [1, 2, 5, 10, 20, 50, 100, 200, 500];
const LABEL_WIDTH = 64;

/** A round step so that the scale has three to five ticks. */
export function tickStep(highest: number): number {
  return STEPS.find((step) => highest / step <= 4) ?? 1000;
}

/** Where the bars and ticks of the weeks' medians stand in a box; y grows downwards. */
export function plotWeeks(weeks: Week[], box: { width: number; height: number; left: number }): Plot {
  const highest = Math.max(1, ...weeks.map((week) => week.median_days ?? 0));
  const step = tickStep(highest);
  const top = Math.ceil(highest / step) * step;
  const y = (value: number) => box.height * (1 - value / top);
  const slot = (box.width - box.left) / Math.max(1, weeks.length);
  const bars = weeks.map(({ week, closed, median_days: median }, i) => {
    const at = y(median ?? 0);
    return { week, closed, median, x: box.left + slot * (i + 0.15), y: at, height: box.height - at };
  });
  const count = Math.round(top / step) + 1;
  const ticks = Array.from({ length: count }, (_, i) => ({ value: i * step, y: y(i * step) }));
  return { bars, barWidth: slot * 0.7, ticks, labelEvery: Math.max(1, Math.ceil(LABEL_WIDTH / slot)) };
}
