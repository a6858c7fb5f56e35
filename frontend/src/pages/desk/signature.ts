/** One stroke of a pen: points in the pad's own pixels. */
export type Stroke = [x: number, y: number][];
export interface Signature {
  svg: string;
  strokes: Stroke[];
  name: string;
}

const round = (value: number) => Math.round(value * 10) / 10;

/** The pad's points, thinned to one decimal. */
export function strokesOf(groups: { points: { x: number; y: number }[] }[]): Stroke[] {
  return groups.map((group) => group.points.map(({ x, y }) => [round(x), round(y)]));
}

/** A plain drawing of the strokes: lines only, so that nothing in it can load or run. */
export function drawSignature(strokes: Stroke[], width: number, height: number): string {
  const lines = strokes.map((stroke) => {
    const [first] = stroke;
    // A dot is a line to itself.
    const points = stroke.length === 1 && first ? [first, first] : stroke;
    return `<polyline points="${points.map((point) => point.join(",")).join(" ")}"/>`;
  });
  const pen = 'fill="none" stroke="#000" stroke-width="2" stroke-linecap="round" stroke-linejoin="round"';
  const box = `viewBox="0 0 ${String(Math.round(width))} ${String(Math.round(height))}"`;
  return `<svg xmlns="http://www.w3.org/2000/svg" ${box}><g ${pen}>${lines.join("")}</g></svg>`;
}

/** A name typed instead of drawn. */
export function typedSignature(name: string): Signature {
  return { svg: drawSignature([], 1, 1), strokes: [], name: name.trim() };
}
