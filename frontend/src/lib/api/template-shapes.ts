// Job templates as their editor sees them: the shelf, drafts, revisions and what differs between two.
import type { Id, Role } from "./shapes";
import type { TemplateBody } from "$lib/templates/body";
import type { Pack } from "./work-shapes";

export type DraftStage = "draft" | "in_review" | "reviewed" | "published";
export type Origin = "shipped" | "shop" | "imported";

export interface ShelfDraft {
  id: Id;
  slug: string;
  title: string;
  stage: DraftStage;
  updated_at: string;
  /** Nobody: it came with the program. */
  updated_by_name: string | null;
  faults: number;
}
/** One template on the shelf. A draft of a new one stands here without a revision. */
export interface ShelfRow {
  slug: string;
  title: string;
  summary: string;
  /** Not said yet, in a draft just begun. */
  role: Role | null;
  origin: Origin;
  revision: number | null;
  published_at: string | null;
  retired_at: string | null;
  retired_reason: string;
  open_worksheets: number;
  steps: number;
  drafts: ShelfDraft[];
}
/** What is wrong in a body. `path` leads to it, name by name; `field` is the same path written out. */
export interface Fault {
  path: (string | number)[];
  field: string;
  step: string | null;
  reason: string;
}
export interface Draft {
  id: Id;
  slug: string;
  title: string;
  stage: DraftStage;
  version: number;
  /** May be faulty while it is being written. */
  body: TemplateBody;
  problems: Fault[];
  based_on: number | null;
  newest: number | null;
  /** The revision it became. */
  published_as: number | null;
  origin: Origin;
  created_by_name: string | null;
  updated_by_name: string | null;
  updated_at: string;
  submitted_by_name: string | null;
  submitted_at: string | null;
  submit_note: string;
  reviewed_by_name: string | null;
  reviewed_at: string | null;
  review_note: string;
  may: { edit: boolean; submit: boolean; review: boolean; publish: boolean };
  why_not_review: string | null;
  why_not_publish: string | null;
}
export interface RevisionRow {
  number: number;
  published_at: string;
  published_by_name: string | null;
  reviewed_by_name: string | null;
  reviewed_at: string | null;
  review_note: string;
  /** Who looked at it, or why nobody did, as a sentence. */
  review_words: string;
  change_note: string;
  origin: Origin;
}
export interface Change {
  what: "added" | "removed" | "changed" | "moved";
  step: string | null;
  field: string;
  before: unknown;
  after: unknown;
  /** The change as a sentence. */
  text: string;
}
/** What a draft is tried against; with none of them, a unit about which nothing is known. */
export interface TryAgainst {
  repair?: Id;
  unit?: Id;
  sheet?: Id;
  facts?: Record<string, string>;
}
export interface Tried {
  pack: Pack;
}
