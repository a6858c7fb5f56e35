import { niceTicks } from "$lib/components/gauge";
import type { GridPoint } from "./grid";

export interface Plot {
  band: string;
  line: string;
  points: { x: number; y: number; point: GridPoint }[];
  xTicks: { at: number; value: number }[];
  yTicks: { at: number; value: number }[];
}

const path = (points: [number, number][]) =>
  points.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(" ");

/** Geometry of the plot within `width` × `height`; limits open at one side reach to the edge. */
export function plotOf(points: GridPoint[], width: number, height: number): Plot {
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
