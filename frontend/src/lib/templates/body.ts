// A job template as the editor holds it: docs/schemas/job-template-1.json, in types.
import type { Rule, StepKind as PackKind } from "$lib/api/work-shapes";
import type { Quantity } from "$lib/calc/quantities";

/** A sentence, or one per language; English is always there then. */
export type Sentence = string | Record<string, string>;
/** Names and numbers that lead into a body: `["steps", 3, "band", "low"]`. */
export type Path = (string | number)[];

/** Where a value comes from; exactly one of the words, with `times` and `optional` beside any of them. */
export interface Expression {
  value?: unknown;
  fact?: string;
  work?: string;
  first?: Expression[];
  list?: Expression[];
  object?: Record<string, Expression>;
  each?: { over: string; as: string; take: Expression; when?: FactCondition };
  largest?: Expression;
  smallest?: Expression;
  times?: number;
  optional?: boolean;
}
/** A number of a template: plain, or worked out when a worksheet starts. */
export type Source = number | null | Expression;
export type Plain = string | number | boolean;

export type FactCondition =
  | { eq: [string, Plain] }
  | { in: [string, Plain[]] }
  | { has: [string, Plain] }
  | { same: [string, string] }
  | { known: string }
  | { at_least: [string, number] }
  | { and: FactCondition[] }
  | { or: FactCondition[] }
  | { not: FactCondition };
export type BenchCondition =
  { eq: [string, string] } | { in: [string, string[]] } | { and: BenchCondition[] } | { not: BenchCondition };

export interface Loop {
  over: string;
  as: string;
  max: number;
}
export interface FixedLimits {
  low?: Source;
  high?: Source;
  nominal?: Source;
}
export interface LimitsAlong {
  along: string;
  points: Expression;
  columns?: [string, string, string];
}
export type Band = FixedLimits | LimitsAlong;
export interface Choice {
  key: string;
  label: Sentence;
  verdict?: "pass" | "fail" | null;
  text?: Sentence;
  goes_on?: boolean;
}
export interface Picture {
  sha256: string;
  caption?: Sentence;
}
export interface RampColumn {
  key: string;
  quantity: Quantity;
  unit?: string;
  title: Sentence;
  along?: "set" | null;
  low?: string;
  high?: string;
  required?: boolean;
}
export interface Ramp {
  rows: Expression;
  set_percent?: string;
  set_volt?: string;
  dwell_seconds: Source;
  stop_rules?: Sentence[];
  columns: RampColumn[];
}
export interface TableColumn {
  key: string;
  title: Sentence;
  quantity: Quantity;
  unit?: string;
  band?: FixedLimits;
  required?: boolean;
}
export interface TableRow {
  title: Sentence;
  limits?: Record<string, FixedLimits>;
}
export type TableLoop = Loop & { title: Sentence };
export interface Table {
  rows: TableRow[] | TableLoop;
  columns: TableColumn[];
}
export interface Variants {
  keys: string[];
  cases: Record<string, StepFields>;
}

export type StepKind = PackKind | "table" | "procedure";

/** What a step and the cases of its variants may both say. */
export interface StepFields {
  title?: Sentence;
  text?: Sentence;
  cautions?: Sentence[];
  required?: boolean;
  work?: string;
  choices?: Choice[];
  /** A reading's quantity; how many pieces for a part. */
  quantity?: Quantity | Source;
  unit?: string;
  band?: Band;
  rule?: Rule;
  meter_kinds?: string[];
  blocks?: boolean;
  seconds?: Source;
  waiting_text?: Sentence;
  part?: string;
  role?: "tech" | "manager";
  other_person?: boolean;
  ramp?: Ramp;
  table?: Table;
}
export interface Step extends StepFields {
  id: string;
  kind: StepKind;
  title?: Sentence;
  group?: Sentence;
  safety?: boolean;
  mains?: boolean;
  energised?: boolean;
  phase?: "as_found" | "as_left" | null;
  when?: BenchCondition;
  when_fact?: FactCondition;
  repeat?: Loop;
  writes?: "sheet.idle_watt" | "unit.set_for";
  variants?: Variants;
  pictures?: Picture[];
  procedure?: { template: string; revision?: number };
}
/** Steps that are worked once for each row of a list. */
export interface Block {
  repeat: Loop;
  when_fact?: FactCondition;
  steps: Step[];
}
export type StepEntry = Step | Block;

export interface FactChoice {
  key: string;
  label: Sentence;
  value?: Plain;
}
/** What is asked when a worksheet starts: a number of a quantity, one of a few choices, or a list of names. */
export interface AskedFact {
  key: string;
  title: Sentence;
  text?: Sentence;
  quantity?: Quantity;
  choices?: FactChoice[];
  names?: boolean;
  required?: boolean;
  from?: string;
  when?: FactCondition;
}
export interface NeededPart {
  key: string;
  order_code?: string;
  name: Sentence;
  quantity: number;
  when?: FactCondition;
}
export interface Work {
  name: string;
  title: Sentence;
  calculator: string;
  given: Record<string, Expression>;
  when?: FactCondition;
  for_each?: Loop;
}
export interface Gate {
  when: FactCondition;
  reason: Sentence;
}
export interface TemplateBody {
  schema_version: 1;
  slug: string;
  title: Sentence;
  summary: Sentence;
  minutes: number;
  role: "tech" | "manager";
  proves?: "safety_check";
  cautions?: Sentence[];
  gates?: Gate[];
  facts?: AskedFact[];
  parts?: NeededPart[];
  work?: Work[];
  steps: StepEntry[];
}

export const isBlock = (entry: StepEntry): entry is Block => "steps" in entry;

export interface PlacedStep {
  step: Step;
  path: Path;
  block: Block | null;
}

/** Every step in order, those of blocks in their place, each with its path. */
export function stepsOf(body: TemplateBody): PlacedStep[] {
  return body.steps.flatMap((entry, i): PlacedStep[] =>
    isBlock(entry)
      ? entry.steps.map((step, j) => ({ step, path: ["steps", i, "steps", j], block: entry }))
      : [{ step: entry, path: ["steps", i], block: null }],
  );
}

/** One field changed; `undefined` takes it away. The others keep their order. */
export function withField<T extends object, K extends keyof T>(value: T, key: K, field: T[K] | undefined): T {
  const changed = { ...value, [key]: field };
  if (field === undefined) delete changed[key];
  return changed;
}

/** The same value twice, whatever the order of its fields. */
export function isSame(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (!one || !other || typeof one !== "object" || typeof other !== "object") return false;
  const [left, right] = [Object.entries(one), Object.entries(other)];
  const isList = Array.isArray(one) === Array.isArray(other);
  return (
    isList &&
    left.length === right.length &&
    left.every(([key, value]) => isSame(value, (other as never)[key]))
  );
}
