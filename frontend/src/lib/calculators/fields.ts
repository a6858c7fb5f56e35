// A form's fields from a JSON Schema, and from nothing else: no calculator is known here by name.
import type { Given, Schema } from "./shapes";

interface Common {
  name: string;
  title: string;
  text: string;
  required: boolean;
  /** Shown at once; the others are folded away. */
  first: boolean;
  /** What the server takes when the field is left out. */
  fallback: unknown;
  examples: unknown[];
}
export interface NumberField extends Common {
  kind: "number";
  unit: string;
  whole: boolean;
  lowest: number | null;
  highest: number | null;
  /** Whether the end itself is outside. */
  above: boolean;
  below: boolean;
}
export interface TextField extends Common {
  kind: "text";
  pattern: string | null;
  longest: number | null;
  isDay: boolean;
}
export interface Option {
  key: string;
  value: unknown;
  label: string;
}
export interface ChoiceField extends Common {
  kind: "choice";
  options: Option[];
}
export interface FlagField extends Common {
  kind: "flag";
}
export interface GroupField extends Common {
  kind: "group";
  fields: Field[];
}
export interface ListField extends Common {
  kind: "list";
  item: Field;
  fewest: number;
  most: number | null;
  /** Empty rows shown at first; those left empty are not asked. */
  atFirst: number;
}
/** One of several shapes, told apart by `tag`. */
export interface EitherField extends Common {
  kind: "either";
  tag: string;
  cases: (Option & { text: string; fields: Field[] })[];
}
/** What fits no other kind: typed as text, or as JSON. */
export interface FreeField extends Common {
  kind: "free";
}
export type Field =
  NumberField | TextField | ChoiceField | FlagField | GroupField | ListField | EitherField | FreeField;

type Shapes = Record<string, Schema>;

/** The fields of the object that a schema describes, in its order. */
export function fieldsOf(schema: Schema): Field[] {
  const shapes = schema.$defs ?? {};
  return fieldsIn(resolved(schema, shapes), shapes);
}

/**
 * The same fields, those of a worked case first too: what it needs, a tech mostly needs, also where it may
 * be left out. Its values are the examples, for they fit this question; the shared ones fit any.
 */
export function withExamples(fields: Field[], examples: unknown[]): Field[] {
  return fields.map((field) => {
    const used = examples.map((one) => (one as Given | null)?.[field.name]).filter((one) => one != null);
    const fitting = used.length ? used : field.examples;
    return { ...insideWith(field, used), examples: fitting, first: field.required || used.length > 0 };
  });
}

function insideWith(field: Field, used: unknown[]): Field {
  if (field.kind === "group") return { ...field, fields: withExamples(field.fields, used) };
  if (field.kind === "list") return listWith(field, used.flat());
  if (field.kind !== "either") return field;
  const cases = field.cases.map((one) => ({ ...one, fields: withExamples(one.fields, used) }));
  return { ...field, cases };
}

/** The same for the answer's `value`; none when it has no fields of its own. */
export function valueFieldsOf(answer: Schema): Field[] {
  const shapes = answer.$defs ?? {};
  const value = resolved(answer, shapes).properties?.["value"];
  return value ? fieldsIn(withoutNull(resolved(value, shapes), shapes), shapes) : [];
}

function listWith(field: ListField, rows: unknown[]): ListField {
  const item = { ...insideWith(field.item, rows), examples: rows.length ? rows : field.item.examples };
  const atFirst = field.item.kind === "choice" ? Math.max(field.fewest, rows.length) : field.fewest;
  return { ...field, atFirst, item };
}

function fieldsIn(schema: Schema, shapes: Shapes, skip = ""): Field[] {
  const required = new Set(schema.required ?? []);
  return Object.entries(schema.properties ?? {})
    .filter(([name]) => name !== skip)
    .map(([name, inner]) => fieldOf(name, inner, shapes, required.has(name)));
}

function fieldOf(name: string, given: Schema, shapes: Shapes, required: boolean): Field {
  const schema = withoutNull(resolved(given, shapes), shapes);
  const common: Common = {
    name,
    title: schema.title ?? humanised(name),
    text: schema.description ?? "",
    required,
    first: required,
    fallback: schema.default ?? null,
    examples: schema.examples ?? [],
  };
  if (schema.anyOf) return eitherField(common, schema, shapes);
  if (schema.enum) return { ...common, kind: "choice", options: optionsOf(schema) };
  switch (schema.type) {
    case "number":
    case "integer":
      return numberField(common, schema);
    case "string":
      return textField(common, schema);
    case "boolean":
      return flagField(common, given);
    case "array":
      return listField(common, schema, shapes);
  }
  if (schema.properties) return { ...common, kind: "group", fields: fieldsIn(schema, shapes) };
  return { ...common, kind: "free" };
}

/** A reference followed. Names and remarks of a shape are for programmers; those beside the reference are for people. */
function resolved(schema: Schema, shapes: Shapes): Schema {
  if (!schema.$ref) return schema;
  const { title: _title, description: _text, ...shape } = shapes[schema.$ref.split("/").at(-1) ?? ""] ?? {};
  const { $ref: _ref, ...beside } = schema;
  return { ...shape, ...beside };
}

/** "This or nothing" is this, left out when it is not needed. */
function withoutNull(schema: Schema, shapes: Shapes): Schema {
  const { anyOf, ...beside } = schema;
  const others = (anyOf ?? []).filter((one) => one.type !== "null");
  if (others.length !== 1 || !others[0]) return anyOf ? { ...schema, anyOf: others } : schema;
  return { ...resolved(others[0], shapes), ...beside };
}

function numberField(common: Common, schema: Schema): NumberField {
  return {
    ...common,
    kind: "number",
    unit: schema["x-unit"] ?? "",
    whole: schema.type === "integer",
    lowest: schema.minimum ?? schema.exclusiveMinimum ?? null,
    highest: schema.maximum ?? schema.exclusiveMaximum ?? null,
    above: schema.exclusiveMinimum !== undefined,
    below: schema.exclusiveMaximum !== undefined,
  };
}

function textField(common: Common, schema: Schema): TextField {
  const isDay = schema.format === "date";
  return {
    ...common,
    kind: "text",
    pattern: schema.pattern ?? null,
    longest: schema.maxLength ?? null,
    isDay,
  };
}

/** A yes-or-no that may stay open is a choice, because a box has no third state. */
function flagField(common: Common, given: Schema): Field {
  const mayBeOpen = given.anyOf?.some((one) => one.type === "null");
  if (!mayBeOpen) return { ...common, kind: "flag", fallback: common.fallback ?? false };
  return { ...common, kind: "choice", options: optionsOf({ ...given, enum: [true, false] }) };
}

const keyOf = (value: unknown) => (typeof value === "string" ? value : JSON.stringify(value));

function optionsOf(schema: Schema): Option[] {
  const labels = schema["x-labels"] ?? {};
  return (schema.enum ?? [])
    .filter((value) => value !== null)
    .map((value) => {
      const key = keyOf(value);
      return { key, value, label: labels[key] ?? (typeof value === "string" ? humanised(key) : key) };
    });
}

function listField(common: Common, schema: Schema, shapes: Shapes): ListField {
  // The unit is told by the list's own name; its rows have none.
  const unit = schema["x-unit"];
  const item = { ...(schema.items ?? {}), ...(unit ? { "x-unit": unit } : {}) };
  return {
    ...common,
    kind: "list",
    item: {
      ...fieldOf(common.name, item, shapes, true),
      title: rowTitle(item, shapes) ?? common.title,
    },
    fewest: schema.minItems ?? 0,
    most: schema.maxItems ?? null,
    atFirst: schema.minItems ?? 0,
  };
}

/**
 * What one row is called: its own title, or that of its shape, which is in the singular. In English that is
 * the name of the shape, `SheetSetting`; in other languages the server has put words in its place.
 */
function rowTitle(item: Schema, shapes: Shapes): string | undefined {
  const shape = item.$ref?.split("/").at(-1) ?? "";
  const own = resolved(item, shapes).title;
  if (own || !shapes[shape]?.properties) return own;
  const said = shapes[shape].title;
  if (said && said !== shape) return said;
  return humanised(shape.replace(/(?<=[a-z])(?=[A-Z])/g, "_").toLowerCase());
}

function eitherField(common: Common, schema: Schema, shapes: Shapes): Field {
  const tag = schema.discriminator?.propertyName;
  if (!tag) return { ...common, kind: "free" };
  const labels = schema["x-labels"] ?? {};
  const cases = (schema.anyOf ?? []).map((one) => {
    const shape = resolved(one, shapes);
    const value = resolved(shape.properties?.[tag] ?? {}, shapes).enum?.[0];
    const key = keyOf(value);
    const label = labels[key] ?? shape.properties?.[tag]?.["x-labels"]?.[key] ?? humanised(key);
    return { key, value, label, text: one.description ?? "", fields: fieldsIn(shape, shapes, tag) };
  });
  return { ...common, kind: "either", tag, cases };
}

/** `old_volt` as people read it. */
export function humanised(name: string): string {
  const words = name.replaceAll("_", " ").trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}
