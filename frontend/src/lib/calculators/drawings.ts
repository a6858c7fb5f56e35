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

/** Every drawing in a value, in its order; one that is there twice only once. */
export function drawingsIn(value: unknown): Drawing[] {
  const found = new Map<string, Drawing>();
  collect(value, found);
  return [...found.values()];
}

function collect(value: unknown, found: Map<string, Drawing>): void {
  if (!value || typeof value !== "object") return;
  if (!Array.isArray(value) && isDrawing(value)) found.set(JSON.stringify(value), value);
  else Object.values(value).forEach((inner) => collect(inner, found));
}
