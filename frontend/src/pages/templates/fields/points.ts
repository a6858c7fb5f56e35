import type { Expression } from "$lib/templates/body";

/** A point of limits that run along another reading: reading, lower limit, upper limit. */
export type Point = [number | null, number | null, number | null];

/** The points where they are typed; null where they are worked out. */
export function pointsIn(points: Expression): Point[] | null {
  const { value } = points;
  const isTyped = Array.isArray(value) && value.every((row) => Array.isArray(row) && row.length === 3);
  return isTyped ? (value as Point[]) : null;
}

/** The points that can be drawn, in the order of the reading they run along. */
export function drawable(points: Point[]): Point[] {
  return points
    .filter(([x, low, high]) => x !== null && (low !== null || high !== null))
    .sort(([one], [other]) => (one ?? 0) - (other ?? 0));
}

export interface Outline {
  /** The area between the limits, as an SVG polygon's points. */
  area: string;
  from: { x: number; y: number };
  to: { x: number; y: number };
}

/** The area between lower and upper limit, drawn into a box. An open end runs to the edge. */
export function outlineOf(points: Point[], width: number, height: number): Outline | null {
  const rows = drawable(points);
  if (rows.length < 2) return null;
  const xs = rows.map(([x]) => x ?? 0);
  const ys = rows.flatMap(([, low, high]) => [low, high]).filter((y) => y !== null);
  const [from, to] = [
    { x: Math.min(...xs), y: Math.min(0, ...ys) },
    { x: Math.max(...xs), y: Math.max(...ys) * 1.05 },
  ];
  const at = (x: number, y: number) =>
    `${String(((x - from.x) / (to.x - from.x || 1)) * width)},${String(height - ((y - from.y) / (to.y - from.y || 1)) * height)}`;
  const upper = rows.map(([x, , high]) => at(x ?? 0, high ?? to.y));
  const lower = rows.map(([x, low]) => at(x ?? 0, low ?? from.y)).reverse();
  return { area: [...upper, ...lower].join(" "), from, to };
}
