import type { DBSchema } from "idb";
import type { ModelSheet, Repair, WorksheetRow } from "$lib/api/shapes";
import type { Entry, Pack } from "$lib/api/work-shapes";
import type { CalculatorAnswer, Given } from "$lib/calculators/shapes";

export interface QueuedEntry {
  /** Order of making on this phone; the queue is drained in it. */
  n?: number;
  id: string;
  maker: string;
  record: string;
  body: Entry;
  state: "waiting" | "refused";
  code: string | null;
  detail: string | null;
  /** Bytes of the entry and of the photo it brings, for the queue page. */
  size: number;
}
export interface KeptPhoto {
  sha256: string;
  blob: Blob;
  repair: string;
  maker: string;
  sent: boolean;
  made_at: string;
}
/** A picture of a template or a model sheet, come with a pack and forgotten with it. */
export interface KeptPicture {
  sha256: string;
  blob: Blob;
}
/** A worksheet on the phone, without its pack: this changes with every entry. */
export interface KeptWorksheet {
  worksheet: string;
  /** Of the pack. */
  sha256: string;
  row: WorksheetRow;
  /** What its steps show. */
  pictures: string[];
}
/** A repair as it was last seen, without whose it is. */
export interface KeptRepair {
  id: string;
  code: string;
  repair: Repair;
  kept_at: string;
  /** When its bench log was fetched; left out: never. */
  log_at?: string;
}
/** A model sheet with the pictures it shows. */
export interface KeptSheet {
  id: string;
  sheet: ModelSheet;
  pictures: string[];
}
/** A pack never changes and can be large: it is read once, when its worksheet is opened. */
export interface KeptPack {
  worksheet: string;
  pack: Pack;
}
export interface SentEntry {
  id: string;
  maker: string;
  body: Entry;
  /** Milliseconds; kept 14 days to be offered again should the shop restore an older copy. */
  acknowledged_at: number;
}
/** An answer of a calculator under the inputs that were asked. */
export interface KeptAnswer {
  key: string;
  name: string;
  given: Given;
  answer: CalculatorAnswer;
  asked_at: string;
}
export interface BenchSchema extends DBSchema {
  meta: { key: string; value: unknown };
  queue: { key: number; value: QueuedEntry; indexes: { id: string; record: string } };
  entries: { key: string; value: Entry; indexes: { record: string } };
  photos: { key: string; value: KeptPhoto };
  pictures: { key: string; value: KeptPicture };
  worksheets: { key: string; value: KeptWorksheet };
  /** The index was there up to version 3. */
  packs: { key: string; value: KeptPack; indexes: { repair: string } };
  repairs: { key: string; value: KeptRepair; indexes: { code: string } };
  sheets: { key: string; value: KeptSheet };
  sent: { key: string; value: SentEntry; indexes: { acknowledged_at: number } };
  drafts: { key: string; value: { key: string; value: unknown; at: number } };
  answers: { key: string; value: KeptAnswer; indexes: { name: string; asked_at: string } };
}
