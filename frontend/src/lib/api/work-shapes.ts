// The pack a phone works from, and the entries it makes. Version 1 of both.
import type { Hazard, Id } from "./shapes";

export interface Source {
  text: string;
  status: string;
  at?: string | null;
}
export interface Working {
  lines: { label: string; formula: string; result: string }[];
  sources: Source[];
  cautions: string[];
  disagreements: string[];
}
export interface Work {
  title: string;
  outcome: string;
  text: string;
  value: unknown;
  working: Working;
}
export interface Accuracy {
  quantity: string;
  percent: number;
  counts: number;
  resolution: number;
  /** Where the range ends; without it nothing can be said about "over range". */
  range_end?: number | null;
}
export interface Meter {
  id: Id;
  code: string;
  name: string;
  kinds: string[];
  state: "ok" | "overdue" | "unknown";
  due_on: string | null;
  accuracy: Accuracy[];
}
export type Rule = "simple" | "guarded" | "non_binary";
export interface FixedBand {
  low: number | null;
  high: number | null;
  nominal?: number | null;
}
export interface AlongBand {
  along: string;
  points: [number, number | null, number | null][];
}
export type Band = FixedBand | AlongBand;
export type Condition =
  { eq: [string, string] } | { in: [string, string[]] } | { and: Condition[] } | { not: Condition };
export interface Choice {
  key: string;
  label: string;
  verdict: "pass" | "fail" | null;
  text?: string;
  /** A failed choice of a safety step that does not lock what comes after it. */
  goes_on?: boolean;
}
/** A column of a grid: of a ramp or of a table. */
export interface GridColumn {
  key: string;
  quantity: string;
  unit: string;
  title: string;
  /** Left out: yes. */
  required?: boolean;
  band: { along: string | null; rows: [number | null, number | null][] } | null;
}
/** A row of a grid. A ramp's is a setting of the variable transformer, a table's has a title. */
export interface GridRow {
  id: string;
  title?: string;
  set_percent: number | null;
  set_volt: number | null;
  /** The work its limits were taken from; left out where there is none. */
  limits_from?: string;
}
export interface Picture {
  sha256: string;
  caption: string;
}
export type StepKind =
  | "caution"
  | "instruction"
  | "look"
  | "reading"
  | "photo"
  | "take_part"
  | "computed"
  | "timer"
  | "sign_off"
  | "note"
  | "ramp"
  | "table";
export interface Step {
  id: string;
  group: string;
  kind: StepKind;
  title: string;
  text: string;
  safety: boolean;
  phase: "as_found" | "as_left" | null;
  required: boolean;
  when: Condition | null;
  cautions: string[];
  work: string | null;
  /** Mains may be on the parts touched here. */
  mains?: boolean;
  /** Worked with power on, covers perhaps off. */
  energised?: boolean;
  /** The revision of another template that this step was taken from. */
  procedure?: { slug: string; revision: number; title: string } | null;
  pictures?: Picture[];
  why_not_judged?: string | null;
  variants: { keys: string[]; cases: Record<string, Partial<Step>> } | null;
  choices?: Choice[];
  quantity?: string | number;
  unit?: string;
  band?: Band | null;
  /** The work its limits were taken from; left out where there is none. */
  limits_from?: string;
  rule?: Rule;
  meter_kinds?: string[];
  blocks?: boolean;
  rows?: GridRow[];
  columns?: GridColumn[];
  dwell_seconds?: number;
  stop_rules?: string[];
  /** `bin`: where it lay when the pack was made; left out in packs made before that was noted. */
  part?: { code: string; name: string; bin?: string | null };
  /** null: how long could not be worked out; `why_not_judged` says why. */
  seconds?: number | null;
  waiting_text?: string;
  ring?: boolean;
  role?: "tech" | "manager";
  other_person?: boolean;
}
export interface Pack {
  pack_version: 1;
  worksheet: Id;
  repair: Id;
  repair_number: string;
  language: string;
  made_at: string;
  template: { slug: string; revision: number; title: string; minutes: number };
  unit: { code: string; make: string; model: string; serial: string };
  supplies: {
    set_for: { volt: number | null; hz: number | null } | null;
    use_at: { volt: number | null; hz: number | null };
    bench: { volt: number | null; hz: number | null };
  };
  allowed: { visible_changes: string; sounds: string };
  hazards: Hazard[];
  cautions: string[];
  meters: Meter[];
  /** Quantities this shop reads only with a meter whose calibration is not overdue; left out: none. */
  overdue_forbidden?: string[];
  work: Record<string, Work>;
  steps: Step[];
}

export type EntryKind =
  | "acknowledge"
  | "choice"
  | "reading"
  | "photo"
  | "finding"
  | "note"
  | "skip"
  | "timer"
  | "part"
  | "sign_off";
export interface ReadingValue {
  as_typed: string;
  value_text: string | null;
  unit: string;
  state: "measured" | "over_range" | "not_measured";
  meter: Id | null;
  low: number | null;
  high: number | null;
  rule: Rule;
  expanded_uncertainty: number | null;
  verdict: string | null;
  quantity: string;
  name?: string;
  /** Read by an instrument and taken, not typed: the offer, and in its own words. */
  instrument?: { offer: Id; said: string; taken_at: string };
}
export interface Entry {
  id: Id;
  record: Id;
  repair: Id;
  worksheet: Id | null;
  step: string | null;
  kind: EntryKind;
  value: Record<string, unknown>;
  replaces: Id | null;
  reason: string;
  made_by: Id;
  made_by_name: string;
  device_id: Id;
  made_at: string;
  verdict: string | null;
  received_at?: string | null;
  seq?: number | null;
  hash?: string | null;
}
