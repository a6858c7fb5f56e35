export type Quantity =
  | "voltage_dc"
  | "voltage_ac"
  | "current_dc"
  | "current_ac"
  | "resistance"
  | "capacitance"
  | "frequency"
  | "power"
  | "temperature"
  | "time"
  | "percent"
  | "count"
  | "inductance"
  | "level"
  | "ratio"
  | "sound_level"
  | "air_speed"
  | "airflow"
  | "rotation"
  | "length";

/** How one quantity is written; the twin of the server's table. `marks` may stand in place of the decimal point. */
export interface QuantityRule {
  unit: string;
  symbol: string;
  prefixes: string;
  words: Record<string, number>;
  lowest: number;
  highest: number;
  marks: Record<string, number>;
}

export const PREFIX_POWER: Record<string, number> = { p: -12, n: -9, u: -6, m: -3, k: 3, M: 6, G: 9 };

function rule(
  unit: string,
  symbol: string,
  prefixes: string,
  words: Record<string, number>,
  [lowest, highest]: [number, number],
  marks: Record<string, number> = {},
): QuantityRule {
  return { unit, symbol, prefixes, words, lowest, highest, marks };
}

const VOLT = { v: 1, volt: 1, volts: 1 };
const AMPERE = { a: 1, amp: 1, amps: 1 };

export const RULES: Record<Quantity, QuantityRule> = {
  voltage_dc: rule("V", "V", "numk", { ...VOLT, vdc: 1 }, [-100_000, 100_000], { V: 0, v: 0 }),
  voltage_ac: rule("V", "V", "numk", { ...VOLT, vac: 1 }, [0, 100_000], { V: 0, v: 0 }),
  current_dc: rule("A", "A", "pnumk", { ...AMPERE, adc: 1 }, [-10_000, 10_000], { A: 0, a: 0 }),
  current_ac: rule("A", "A", "pnumk", { ...AMPERE, aac: 1 }, [0, 10_000], { A: 0, a: 0 }),
  // L for milliohm is the mark of IEC 60062; the lower-case letter looks like a one.
  resistance: rule("ohm", "Ω", "mkMG", { ohm: 1, ohms: 1 }, [0, 1e15], { R: 0, r: 0, L: -3 }),
  capacitance: rule("F", "F", "pnum", { f: 1, farad: 1 }, [0, 10_000], { F: 0, f: 0 }),
  frequency: rule("Hz", "Hz", "mkMG", { hz: 1 }, [0, 1e12]),
  power: rule("W", "W", "numk", { w: 1, watt: 1, watts: 1 }, [0, 1e6]),
  temperature: rule("degC", "°C", "", { c: 1, degc: 1, "°c": 1 }, [-273.15, 4000]),
  time: rule("s", "s", "num", { s: 1, sec: 1, min: 60, h: 3600 }, [0, 1e9]),
  percent: rule("%", "%", "", { "%": 1, percent: 1 }, [-1000, 100_000]),
  count: rule("1", "", "", {}, [0, 1e9]),
  inductance: rule("H", "H", "pnum", { h: 1, henry: 1 }, [0, 1e6], { H: 0, h: 0 }),
  level: rule("dBu", "dBu", "", { dbu: 1 }, [-200, 100]),
  ratio: rule("dB", "dB", "", { db: 1 }, [-300, 300]),
  sound_level: rule("dB(A)", "dB(A)", "", { "db(a)": 1, dba: 1 }, [-20, 200]),
  air_speed: rule("m/s", "m/s", "", { "m/s": 1 }, [0, 500]),
  airflow: rule("m3/h", "m³/h", "", { "m3/h": 1, "m³/h": 1 }, [0, 1e6]),
  rotation: rule("1/min", "1/min", "", { "1/min": 1, rpm: 1 }, [0, 1e6]),
  // A bare m is the metre here, and so it is in place of the point: 1m5.
  length: rule("m", "m", "numk", { m: 1, metre: 1, metres: 1 }, [0, 1e6], { m: 0 }),
};

export function isQuantity(name: string): name is Quantity {
  return Object.hasOwn(RULES, name);
}
