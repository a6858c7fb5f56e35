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

/** The same value with nothing in the place of each drawing: what is left are figures and words. */
export function withoutDrawings<T>(value: T): T {
  const text = JSON.stringify(value, (_key, inner: unknown) =>
    inner && typeof inner === "object" && !Array.isArray(inner) && isDrawing(inner) ? null : inner,
  );
  return JSON.parse(text) as T;
}
