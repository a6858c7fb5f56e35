import type { CalculatorAnswer, CalculatorRow, Schema } from "$lib/calculators/shapes";

/** A schema with one of everything that the server writes. */
export const everything: Schema = {
  $ref: "#/$defs/AskIn",
  $defs: {
    AskIn: {
      title: "AskIn",
      description: "for programmers",
      type: "object",
      properties: {
        supply_volt: { title: "Supply", type: "number", minimum: 1, maximum: 1000, "x-unit": "V" },
        load_ampere: {
          title: "Load",
          description: "as measured",
          anyOf: [{ type: "number", minimum: 0, examples: [0.16] }, { type: "null" }],
          default: null,
          "x-unit": "A",
        },
        margin_percent: { title: "Margin", type: "number", default: 10, "x-unit": "%" },
        count: { title: "Pieces", type: "integer", minimum: 1, default: 1 },
        mark: {
          title: "Marking",
          type: "string",
          maxLength: 12,
          pattern: "^[TF]",
          examples: ["T160mAL250V"],
          default: "",
        },
        position: {
          title: "Position",
          enum: ["common_line", "winding"],
          "x-labels": { common_line: "one fuse in the line" },
          default: "common_line",
        },
        is_heater: { title: "Feeds a heater", type: "boolean", default: false },
        is_measured: { title: "Measured", anyOf: [{ type: "boolean" }, { type: "null" }], default: null },
        plate_hz: {
          title: "Frequencies",
          type: "array",
          items: { type: "number" },
          minItems: 1,
          maxItems: 2,
          "x-unit": "Hz",
        },
        sections: {
          title: "Sections",
          type: "array",
          items: { $ref: "#/$defs/MainSection" },
          maxItems: 4,
          default: [],
        },
        lamp: { title: "Lamp", anyOf: [{ $ref: "#/$defs/Lamp" }, { type: "null" }], default: null },
        load: {
          title: "Load",
          anyOf: [{ $ref: "#/$defs/Resistance" }, { $ref: "#/$defs/ConstantPower" }],
          discriminator: { propertyName: "kind" },
        },
        odd: { type: "object" },
      },
      required: ["supply_volt", "plate_hz", "load"],
    },
    MainSection: {
      title: "MainSection",
      type: "object",
      properties: {
        name: { title: "Name", type: "string" },
        taps: { title: "Taps", type: "array", items: { type: "number" }, default: [] },
      },
      required: ["name"],
    },
    Lamp: {
      title: "Lamp",
      description: "for programmers",
      type: "object",
      properties: { lamp_watt: { type: "number", "x-unit": "W" } },
      required: ["lamp_watt"],
    },
    Resistance: {
      title: "Resistance",
      type: "object",
      properties: { kind: { enum: ["resistance"] }, ohm: { title: "Ohms", type: "number", "x-unit": "Ω" } },
      required: ["kind", "ohm"],
    },
    ConstantPower: {
      title: "ConstantPower",
      type: "object",
      properties: {
        kind: { enum: ["constant_power"] },
        watt: { title: "Power", type: "number", "x-unit": "W" },
      },
      required: ["kind", "watt"],
    },
  },
};

/** The input of its worked case. */
export const worked = {
  supply_volt: 230,
  load_ampere: 0.16,
  plate_hz: [50, 60],
  sections: [{ name: "A", taps: [115] }],
  lamp: { lamp_watt: 60 },
  load: { kind: "constant_power", watt: 30 },
};

export function calculator(given: Partial<CalculatorRow> = {}): CalculatorRow {
  return {
    name: "fuses.test",
    title: "Fuse for a test",
    area: { key: "fuses", title: "Fuses" },
    question: "Which fuse?",
    example: worked,
    input: everything,
    answer: {
      $ref: "#/$defs/Answer",
      $defs: {
        Answer: {
          type: "object",
          properties: { value: { anyOf: [{ $ref: "#/$defs/Out" }, { type: "null" }] } },
        },
        Out: { type: "object", properties: { fuse_ampere: { type: "number", "x-unit": "A" } } },
      },
    },
    ...given,
  };
}

export function answer(given: Partial<CalculatorAnswer> = {}): CalculatorAnswer {
  const lines = [{ label: "old current", formula: "I = P / U", result: "0.13 A" }];
  const sources = [{ text: "IEC 60127-2", status: "second_hand", at: "clause 9" }];
  const working = { lines, sources, cautions: ["Unplug it first."], disagreements: ["Another says 125 mA."] };
  return { outcome: "warn", text: "Fit 160 mA.", value: { fuse_ampere: 0.16 }, working, ...given };
}
