import type { Entry, RampColumn, Step } from "$lib/api/work-shapes";
import { niceTicks } from "$lib/components/gauge";
import { cellLimits } from "./bands";
import { numberOn } from "./effective";
import { cellId } from "./state";

export interface RampPoint {
  row: string;
  /** What the variable transformer is set to, in volts (per cent where no volts are given). */
  x: number;
  low: number | null;
  high: number | null;
  y: number | null;
  verdict: string | null;
}

/** One column of a ramp: its limits and what was read, row by row. */
export function rampPoints(step: Step, column: RampColumn, standing: Map<string, Entry[]>): RampPoint[] {
  return (step.rows ?? []).map((row, index) => {
    const { low, high } = cellLimits(step, column, index, standing);
    const id = cellId(step, row.id, column.key);
    const verdict = standing.get(id)?.at(-1)?.verdict ?? null;
    return {
      row: row.id,
      x: row.set_volt ?? row.set_percent ?? index,
      low,
      high,
      y: numberOn(standing, id),
      verdict,
    };
  });
}

export interface Plot {
  band: string;
  line: string;
  points: { x: number; y: number; point: RampPoint }[];
  xTicks: { at: number; value: number }[];
  yTicks: { at: number; value: number }[];
}

const path = (points: [number, number][]) =>
  points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(" ");

/** Geometry of the plot within `width` × `height`; limits open at one side reach to the edge. */
export function plotOf(points: RampPoint[], width: number, height: number): Plot {
  const values = points.flatMap((one) => [one.low, one.high, one.y]).filter((value) => value !== null);
  const top = Math.max(...values, 0) * 1.1 || 1;
  const bottom = Math.min(...values, 0);
  const right = Math.max(...points.map((one) => one.x), 1) * 1.03;
  const x = (value: number) => (value / right) * width;
  const y = (value: number) => height - ((value - bottom) / (top - bottom)) * height;
  const limited = points.filter((one) => one.low !== null || one.high !== null);
  const upper = limited.map((one): [number, number] => [x(one.x), y(one.high ?? top)]);
  const lower = limited.map((one): [number, number] => [x(one.x), y(one.low ?? bottom)]);
  const read = points.flatMap((point) => (point.y === null ? [] : [{ x: x(point.x), y: y(point.y), point }]));
  return {
    band: path([...upper, ...lower.reverse()]),
    line: path(read.map((one): [number, number] => [one.x, one.y])),
    points: read,
    xTicks: niceTicks(0, right, 5).map((value) => ({ at: x(value), value })),
    yTicks: niceTicks(bottom, top, 4).map((value) => ({ at: y(value), value })),
  };
}

/** The first cell without a reading, row by row; null when all are there. */
export function firstOpenCell(
  step: Step,
  standing: Map<string, Entry[]>,
): { row: string; column: string } | null {
  for (const row of step.rows ?? []) {
    const needed = (step.columns ?? []).filter((one) => one.required !== false);
    const column = needed.find((one) => !standing.has(cellId(step, row.id, one.key)));
    if (column) return { row: row.id, column: column.key };
  }
  return null;
}
