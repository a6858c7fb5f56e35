import { ApiError } from "$lib/api/call";
import { uuid7 } from "$lib/api/ids";
import type { Me } from "$lib/api/shapes";
import type { Entry, EntryKind } from "$lib/api/work-shapes";
import { benchDb, STRICT } from "$lib/db/open";
import type { KeptPhoto, QueuedEntry } from "$lib/db/schema";
import { withRoom } from "$lib/db/with-room";
import type { ShrunkPhoto } from "$lib/photos/shrink";
import { announceChange } from "./changes";
import { refreshQueueState } from "./refresh";
import { sendOperations, uploadPhoto } from "./send";

export interface NewEntry {
  repair: string;
  /** Left out: the entry belongs to the bench log of the repair. */
  worksheet?: string | null;
  step?: string | null;
  kind: EntryKind;
  value: Record<string, unknown>;
  verdict?: string | null;
  replaces?: string | null;
  reason?: string;
  photo?: ShrunkPhoto;
}

function entryOf(given: NewEntry, me: Me, now: Date): Entry {
  const worksheet = given.worksheet ?? null;
  return {
    id: uuid7(now.getTime()),
    record: worksheet ?? given.repair,
    repair: given.repair,
    worksheet,
    step: given.step ?? null,
    kind: given.kind,
    value: given.value,
    replaces: given.replaces ?? null,
    reason: given.reason ?? "",
    made_by: me.id,
    made_by_name: me.name,
    device_id: me.device.id,
    made_at: now.toISOString(),
    verdict: given.verdict ?? null,
  };
}

/** Keeps an entry, with its photo, in one strict transaction. Durable when it returns: only then say "saved". Throws
 *  StorageFull when there is no room, even with everything forgotten that can be had again: then nothing was kept. */
export async function keepEntry(given: NewEntry, me: Me, now = new Date()): Promise<Entry> {
  const entry = entryOf(given, me, now);
  const size = JSON.stringify(entry).length + (given.photo?.blob.size ?? 0);
  const queued: QueuedEntry = {
    id: entry.id,
    maker: me.id,
    record: entry.record,
    body: entry,
    state: "waiting",
    code: null,
    detail: null,
    size,
  };
  await withRoom(() => write(entry, queued, given.photo));
  await refreshQueueState();
  announceChange();
  return entry;
}

async function write(entry: Entry, queued: QueuedEntry, photo?: ShrunkPhoto): Promise<void> {
  const tx = (await benchDb()).transaction(["entries", "queue", "photos"], "readwrite", STRICT);
  const writes: Promise<unknown>[] = [
    tx.objectStore("entries").put(entry),
    tx.objectStore("queue").add(queued),
  ];
  if (photo) writes.push(tx.objectStore("photos").put(keptPhoto(photo, entry)));
  // Where room ends, each write is aborted; the transaction alone knows why.
  await Promise.all([...writes, tx.done]).catch((error: unknown) => {
    throw tx.error ?? error;
  });
}

function keptPhoto(photo: ShrunkPhoto, entry: Entry): KeptPhoto {
  const { sha256, blob } = photo;
  return { sha256, blob, repair: entry.repair, maker: entry.made_by, sent: false, made_at: entry.made_at };
}

/** Plain HTTP: nothing is queued. Sent at once; returns only after the server has taken it. */
export async function sendEntryNow(given: NewEntry, me: Me, now = new Date()): Promise<Entry> {
  const entry = entryOf(given, me, now);
  if (given.photo) await uploadPhoto(given.photo.sha256, given.photo.blob, entry.repair);
  const answer = await sendOperations([entry], {});
  const result = answer.results.find((one) => one.id === entry.id);
  if (!result || result.outcome === "refused") {
    throw new ApiError(409, result?.code ?? "no_answer", result?.detail ?? "");
  }
  const kept = { ...entry, seq: result.seq ?? null };
  await (await benchDb()).put("entries", kept);
  announceChange();
  return kept;
}
