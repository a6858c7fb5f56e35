import type { CalculatorRow } from "$lib/calculators/shapes";
import type { NamedFact, TemplateWords } from "$lib/templates/named";
import { calculator } from "./calculators";

const fact = (path: string, title: string, more: Partial<NamedFact> = {}): NamedFact => ({
  path,
  title,
  type: "text",
  ...more,
});

/** One of each that the server says can be named. */
export function words(): TemplateWords {
  return {
    facts: [
      fact("unit.code", "Code"),
      fact("sheet.idle_watt", "Idle power", { type: "number", unit: "W", quantity: "power" }),
      fact("sheet.two_wire", "Two-wire cord", { type: "yes_no" }),
      fact("sheet.supply_kind", "Kind of supply", {
        type: "choice",
        choices: [
          { key: "linear", title: "Linear" },
          { key: "switch_mode", title: "Switch-mode" },
        ],
      }),
      fact("sheet.rails", "Rails", {
        type: "list",
        rows: [
          fact("sheet.rails.name", "Name"),
          fact("sheet.rails.volt", "Volts", { type: "number", unit: "V", quantity: "voltage_dc" }),
        ],
      }),
      fact("bench.supply_volt", "Bench supply", { type: "number", unit: "V", quantity: "voltage_ac" }),
      fact("bench.millivolt", "Bench in millivolts", { type: "number", unit: "mV" }),
    ],
    quantities: [
      { key: "resistance", title: "Resistance", unit: "ohm", symbol: "Ω" },
      { key: "voltage_dc", title: "DC voltage", unit: "V", symbol: "V" },
      { key: "power", title: "Power", unit: "W", symbol: "W" },
    ],
    meter_kinds: [{ key: "multimeter", title: "Multimeter" }],
  };
}

export const rows = (): CalculatorRow[] => [calculator()];
