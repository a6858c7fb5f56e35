import type { Entry } from "$lib/api/work-shapes";
import { ApiError } from "$lib/api/call";
import type { KeptPhoto } from "$lib/db/schema";
import type { Line } from "$lib/queue/drain";
import type { Known, OperationResult, SyncAnswer } from "$lib/queue/send";

/** A small real server of entries: idempotent by id, numbers each record, refuses what it is told to refuse. */
export class EntryServer implements Line {
  readonly records = new Map<string, Entry[]>();
  readonly photos: string[] = [];
  /** Steps it refuses, with the code. */
  readonly refuses = new Map<string, string>();
  readonly batches: number[] = [];
  /** How many answers to lose after applying. */
  loseAnswers = 0;
  away = false;
  /** Stages of records that are not open. */
  readonly stages = new Map<string, string>();
  /** What other phones recorded, already numbered. */
  readonly others: Entry[] = [];

  send = (entries: Entry[], known: Known = {}): Promise<SyncAnswer | null> => {
    if (this.away) return Promise.resolve(null);
    this.batches.push(entries.length);
    const stopped = new Set<string>();
    const results = entries.map((entry) => this.take(entry, stopped));
    if (this.loseAnswers > 0) {
      this.loseAnswers -= 1;
      return Promise.resolve(null);
    }
    return Promise.resolve({
      results,
      newer: this.newerThan(known),
      worksheets: this.heads(),
      server_time: "2026-01-01T00:00:00Z",
    });
  };

  upload = (photo: KeptPhoto): Promise<"done" | "later" | ApiError> => {
    if (this.away) return Promise.resolve("later");
    if (photo.sha256 === "bad")
      return Promise.resolve(new ApiError(400, "not_an_image", "This is no picture."));
    this.photos.push(photo.sha256);
    return Promise.resolve("done");
  };

  all(): string[] {
    return [...this.records.values()].flat().map((entry) => entry.id);
  }

  private newerThan(known: Known): SyncAnswer["newer"] {
    const newer: SyncAnswer["newer"] = {};
    for (const entry of this.others) {
      const held = known[entry.record];
      if (held !== undefined && (entry.seq ?? 0) > held) (newer[entry.record] ??= []).push(entry);
    }
    return newer;
  }

  private heads(): SyncAnswer["worksheets"] {
    const heads = [...this.records].map(
      ([id, entries]) => [id, { stage: this.stages.get(id) ?? "open", last_seq: entries.length }] as const,
    );
    return Object.fromEntries(heads);
  }

  private take(entry: Entry, stopped: Set<string>): OperationResult {
    const kept = this.records.get(entry.record) ?? [];
    const at = kept.findIndex((one) => one.id === entry.id);
    if (at >= 0) return { id: entry.id, outcome: "repeated", seq: at + 1 };
    if (stopped.has(entry.record)) return { id: entry.id, outcome: "refused", code: "held_back", detail: "" };
    const code = this.refuses.get(entry.step ?? "");
    if (code) {
      stopped.add(entry.record);
      return { id: entry.id, outcome: "refused", code, detail: "The repair was closed." };
    }
    this.records.set(entry.record, [...kept, entry]);
    return { id: entry.id, outcome: "applied", seq: kept.length + 1 };
  }
}
