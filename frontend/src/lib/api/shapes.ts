// What the server sends and takes, by hand. `npm run types` makes schema.d.ts from the server's own schema;
// tests/lib/api compares the two where both exist.
import type { Id } from "./ids";
import type { Bin, Part } from "./stock-shapes";

export * from "./stock-shapes";
export type { Id };
export type Role = "desk" | "tech" | "manager";

export interface Shop {
  name: string;
  currency: string;
  minor_digits: number;
  country: string;
  bench_volt: number;
  bench_hz: number;
  safety_scheme: string;
  diagnosis_fee_minor?: number;
  public_url: string | null;
  public_url_note: string | null;
  time_zone: string;
}
export interface Me {
  id: Id;
  username: string;
  name: string;
  role: Role;
  language: string;
  device: { id: Id; name: string };
  shop: Shop;
}
/** A session that began without a phone of its own has none. */
export type MeSent = Omit<Me, "device"> & { device: Me["device"] | null };
export interface Page<T> {
  next: string | null;
  previous: string | null;
  results: T[];
}
export interface Person {
  id: Id;
  name: string;
  role: Role;
}
export interface DevicePin {
  id: Id;
  person_name: string;
  set_at: string;
}
export interface Device {
  id: Id;
  name: string;
  person_name: string;
  enrolled_at: string;
  last_seen_at: string | null;
  revoked_at: string | null;
  pins: DevicePin[];
}
export interface Customer {
  id: Id;
  name: string;
  phone: string;
  email: string;
  language?: string;
}
export interface Hazard {
  key: string;
  text: string;
}
export interface Piece {
  code: string;
  name: string;
  state: string;
}
export interface Unit {
  id: Id;
  code: string;
  make: string;
  model: string;
  serial: string;
  model_sheet: Id | null;
  hazards: Hazard[];
  set_for_volt: number | null;
  place: { code: string; name: string } | null;
  do_not_power: boolean;
  pieces: Piece[];
}
export interface RepairRow {
  id: Id;
  number: string;
  stage: string;
  stage_since: string;
  stage_words: string;
  unit: { code: string; make: string; model: string; serial: string };
  /** Empty for who may not see how to reach customers. */
  customer_name: string;
  due_on: string | null;
  assigned_to: { id: Id; name: string } | null;
  age_days: number;
  waiting_for: string | null;
}
export interface Supply {
  volt: number | null;
  hz: number | null;
  country?: string;
}
export interface Allowed {
  diagnosis_fee_minor: number;
  spending_limit_minor: number;
  visible_changes: "yes" | "no" | "ask";
  sounds: "may_be_lost" | "save_first" | "none";
}
export interface EstimateLine {
  text: string;
  quantity: number;
  price_minor: number;
}
export interface Estimate {
  id: Id;
  lines: EstimateLine[];
  total_minor: number;
  tax_minor?: number;
  is_within_limit?: boolean;
  state: "draft" | "sent" | "agreed" | "declined" | "replaced";
  sent_at?: string | null;
  answer_words?: string;
  answered_at: string | null;
  answered_how: string | null;
  note?: string;
}
export type DocumentKind =
  "receipt" | "tag" | "estimate" | "test_report" | "invoice" | "order" | "plate_sticker" | "labels";
export interface PaperDocument {
  id: Id;
  kind: DocumentKind;
  title: string;
  issued_at: string | null;
  /** null until it is drawn. */
  url: string | null;
  replaces: Id | null;
  state: "ready" | "drawing" | "failed";
}
export interface StageEvent {
  id?: Id;
  from: string;
  to: string;
  at: string;
  by_name: string;
  reason: string;
  /** Into whose hands it came with this event; left out in what was kept before that was noted. */
  hands?: "taken" | "handed" | "put_back" | null;
  handed_to?: Id | null;
  handed_to_name?: string;
}
export interface AllowedStage {
  to: string;
  label: string;
  requires: string | null;
  needs_reason?: boolean;
}
export interface Repair extends RepairRow {
  version: number | string;
  booked_in_at: string;
  booked_in_by: string;
  complaint: string;
  last_worked: string;
  last_supply: string;
  set_for: Supply | null;
  use_at: Supply;
  bench_supply: Supply;
  damage: string;
  allowed: Allowed;
  unit: Unit;
  customer: Customer | null;
  events: StageEvent[];
  allowed_stages: AllowedStage[];
  worksheets: WorksheetRow[];
  documents: PaperDocument[];
  photos: { sha256: string; caption: string; taken_at: string | null }[];
  estimate: Estimate | null;
  history: { id: Id; number: string; booked_in_at: string; complaint: string; outcome: string }[];
  labour_minutes: number;
  elapsed_days: number;
  working_days: number;
  closed_up_at?: string | null;
  status_link?: { url: string } | { missing: string };
}
export interface BookIn {
  id: Id;
  customer: { id: Id } | { name: string; phone: string; email: string; language: string };
  unit: { id: Id } | { model_sheet: Id | null; make: string; model: string; serial: string };
  complaint: string;
  last_worked: string;
  last_supply: string;
  set_for_volt: number | null;
  set_for_hz: number | null;
  use_at_country: string;
  use_at_volt: number;
  use_at_hz: number;
  /** Meant all the same, though the country has no such supply. */
  use_at_confirmed?: boolean;
  damage: string;
  pieces: { name: string }[];
  allowed: Allowed;
  signature: { svg: string; strokes: unknown; name: string } | null;
  photos: { sha256: string; caption: string }[];
  due_on: string | null;
}
export type Found =
  | { kind: "repair"; repair: RepairRow }
  | { kind: "customer"; customer: Customer }
  | { kind: "unit"; unit: Unit };
export interface ModelSheetRow {
  id: Id;
  make: string;
  model: string;
  kind: string;
}
export type ModelSheet = ModelSheetRow & Record<string, unknown>;
/** What is asked before a worksheet starts. */
export interface AskedFact {
  key: string;
  title: string;
  unit?: string;
  text?: string;
  choices?: { key: string; label: string }[] | null;
  /** Where an empty answer is taken from, as far as it is known there. */
  from?: string | null;
}
export interface JobTemplate {
  facts?: AskedFact[];
  slug: string;
  title: string;
  summary: string;
  minutes: number;
  role: Role;
  revision: number;
  parts: string[];
}
export interface WorksheetRow {
  id: Id;
  repair: Id;
  template: string;
  title: string;
  revision: number;
  /** Left out by a shop that does not say. */
  newest_revision?: number;
  stage: "open" | "passed" | "failed" | "stopped";
  opened_at: string;
  opened_by_name: string;
  last_seq: number;
  pack_sha256: string;
}
export interface Bench {
  id: Id;
  name: string;
  volt: number;
  hz: number;
  lamps: { watt: number; volt: number }[];
}
export interface CodeFound {
  kind: "unit" | "piece" | "bin" | "part" | "meter" | "shelf";
  code: string;
  unit?: Unit;
  repair?: Id | null;
  worksheets?: WorksheetRow[];
  part?: Part;
  bin?: Bin;
  /** What lies in the bin. */
  parts?: Part[];
  meter?: { id: Id; code: string; name: string; state: "ok" | "overdue" | "unknown"; due_on: string | null };
  shelf?: { code: string; name: string; units: Unit[] };
}
export interface MyPacks {
  worksheets: { id: Id; pack_sha256: string; last_seq: number; repair: Id; unit_code: string }[];
}
/** A message to the customer: sent, or the reason why not. */
export interface Notice {
  id: Id;
  kind: string;
  to: string;
  subject: string;
  created_at: string;
  sent_at: string | null;
  not_sent_why: string;
}
