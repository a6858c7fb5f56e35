// What the server says about a calculator, and what it answers.
import type { Working } from "$lib/api/work-shapes";

/** As much of JSON Schema (2020-12) as the server writes; `x-` keys are its own. */
export interface Schema {
  $ref?: string;
  $defs?: Record<string, Schema>;
  type?: string;
  title?: string;
  description?: string;
  default?: unknown;
  examples?: unknown[];
  enum?: unknown[];
  anyOf?: Schema[];
  discriminator?: { propertyName: string };
  properties?: Record<string, Schema>;
  required?: string[];
  items?: Schema;
  minItems?: number;
  maxItems?: number;
  minLength?: number;
  maxLength?: number;
  pattern?: string;
  format?: string;
  minimum?: number;
  maximum?: number;
  exclusiveMinimum?: number;
  exclusiveMaximum?: number;
  "x-unit"?: string;
  "x-labels"?: Record<string, string>;
}
export type Given = Record<string, unknown>;
export interface CalculatorRow {
  name: string;
  title: string;
  area: { key: string; title: string };
  question: string;
  /** Searched, not shown; a list that an older build kept has none. */
  words?: string;
  example: Given;
  input: Schema;
  answer: Schema;
}
export interface CalculatorAnswer {
  outcome: "ok" | "warn" | "refuse" | "no_answer";
  text: string;
  value: Given | null;
  working: Working;
}
