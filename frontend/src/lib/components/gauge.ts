/** Geometry of the band gauge, in per cent of its width. */
export interface GaugeInput {
  low: number | null;
  high: number | null;
  value: number | null;
  /** Expanded uncertainty of the reading: the width of the guard zones inside the limits. */
  guard: number | null;
}
export interface Gauge {
  from: number;
  to: number;
  band: { start: number; end: number };
  guards: { start: number; end: number }[];
  needle: number | null;
  /** The reading lies beyond the scale. */
  off: "low" | "high" | null;
  ticks: { at: number; value: number }[];
}

/** The scale: the band in the middle half; a one-sided band starts at zero. */
function scaleOf({ low, high, value }: GaugeInput): [number, number] {
  if (low !== null && high !== null) {
    const span = high - low || Math.abs(high) * 0.2 || 1;
    const from = low >= 0 ? Math.max(0, low - span / 2) : low - span / 2;
    return [from, high + span / 2];
  }
  if (high !== null) return high > 0 ? [0, high * 1.5] : [high * 1.5 - 1, 0];
  if (low !== null) return low > 0 ? [0, low * 2] : [low - 1, Math.abs(low) + 1];
  const size = Math.abs(value ?? 1) || 1;
  return (value ?? 0) < 0 ? [-1.5 * size, 0] : [0, 1.5 * size];
}

function niceStep(span: number, wanted: number): number {
  const rough = span / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  return ([1, 2, 5, 10].find((m) => m * power >= rough) ?? 10) * power;
}

export function niceTicks(from: number, to: number, wanted = 4): number[] {
  const step = niceStep(to - from, wanted);
  const first = Math.ceil(from / step - 1e-9);
  const count = Math.floor(to / step + 1e-9) - first + 1;
  return Array.from({ length: Math.max(0, count) }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

function guardZones(input: GaugeInput, at: (x: number) => number): Gauge["guards"] {
  const { low, high, guard } = input;
  if (guard === null || guard <= 0 || !Number.isFinite(guard)) return [];
  const zone = (limit: number) => ({ start: at(limit - guard), end: at(limit + guard) });
  return [low, high].filter((limit) => limit !== null).map(zone);
}

export function gaugeOf(input: GaugeInput): Gauge {
  const [from, to] = scaleOf(input);
  const clamp = (x: number) => Math.min(100, Math.max(0, x));
  const at = (x: number) => clamp(((x - from) / (to - from)) * 100);
  const { low, high, value } = input;
  const off = value === null ? null : value < from ? "low" : value > to ? "high" : null;
  return {
    from,
    to,
    band: { start: low === null ? 0 : at(low), end: high === null ? 100 : at(high) },
    guards: guardZones(input, at),
    needle: value === null ? null : at(value),
    off,
    ticks: niceTicks(from, to).map((tick) => ({ at: at(tick), value: tick })),
  };
}
