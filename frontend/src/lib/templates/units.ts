// Units that differ by a prefix only: volts and millivolts, farads and microfarads.

const PREFIXES: Record<string, number> = { p: -12, n: -9, µ: -6, m: -3, k: 3, M: 6 };
const PARTS = /^([pnµmkM]?)(V|A|Ω|F|H|W|Hz|VA|m|s)$/u;
const SAME: Record<string, string> = { ohm: "Ω", degC: "°C", "1": "" };

const plain = (unit: string) => SAME[unit] ?? unit;

function partsOf(unit: string): { base: string; power: number } {
  const [, prefix = "", base = plain(unit)] = PARTS.exec(plain(unit)) ?? [];
  return { base, power: PREFIXES[prefix] ?? 0 };
}

/** What a number in one unit is multiplied by to be in another; null where they are of different things. */
export function factorBetween(have: string, want: string): number | null {
  const [one, other] = [partsOf(have), partsOf(want)];
  return one.base === other.base ? Number(`1e${String(one.power - other.power)}`) : null;
}
