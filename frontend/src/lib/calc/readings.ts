/** A number in an SI unit as people read it: prefix, at most four significant digits. */
export function formatValue(value: number, unit: string): string {
  return `${String(Number(value.toPrecision(4)))} ${unit}`;
}
