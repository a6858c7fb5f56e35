// Drawings of winding arrangements, wherever an answer's value holds them.

export interface Drawing {
  /** The drawing in a sentence. */
  title: string;
  width: number;
  height: number;
  text_height: number;
  lines: { x1: number; y1: number; x2: number; y2: number; kind: string }[];
  coils: { path: string; kind: string }[];
  dots: { x: number; y: number; radius: number; kind: string }[];
  labels: { x: number; y: number; text: string; anchor: string; kind: string }[];
}

function isDrawing(value: object): value is Drawing {
  const one = value as Partial<Drawing>;
  return [one.lines, one.coils, one.dots, one.labels].every(Array.isArray) && typeof one.title === "string";
}

export interface Named {
  /** The name of the field that holds it. */
  name: string;
  drawing: Drawing;
}

/** Every drawing in a value, in its order. */
export function drawingsIn(value: unknown, name = ""): Named[] {
  if (!value || typeof value !== "object") return [];
  if (Array.isArray(value)) return value.flatMap((inner) => drawingsIn(inner, name));
  if (isDrawing(value)) return [{ name, drawing: value }];
  return Object.entries(value).flatMap(([inside, inner]) => drawingsIn(inner, inside));
}

/** Width of a letter of the widest face in use, as a part of its height. */
const LETTER = 0.68;
const MARGIN = 4;

/** What of the drawing's area is drawn on, as a viewBox: on a phone every unit of width counts. */
export function boxOf({ lines, dots, labels, width, height, text_height }: Drawing): string {
  const lefts = [
    ...lines.flatMap(({ x1, x2 }) => [x1, x2]),
    ...dots.map(({ x }) => x),
    ...labels.map(({ x }) => x),
  ];
  const rights = [...lefts, ...labels.map(({ x, text }) => x + text.length * text_height * LETTER)];
  const left = Math.max(0, Math.min(width, ...lefts) - MARGIN);
  const right = Math.min(width, Math.max(left + 1, ...rights) + MARGIN);
  return [left, 0, right - left, height].join(" ");
}

/** The same value with nothing in the place of each drawing: what is left are figures and words. */
export function withoutDrawings<T>(value: T): T {
  const text = JSON.stringify(value, (_key, inner: unknown) =>
    inner && typeof inner === "object" && !Array.isArray(inner) && isDrawing(inner) ? null : inner,
  );
  return JSON.parse(text) as T;
}
