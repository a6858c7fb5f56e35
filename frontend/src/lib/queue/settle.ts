import { benchDb, STRICT } from "$lib/db/open";
import { isFull } from "$lib/db/room";
import type { QueuedEntry, SentEntry } from "$lib/db/schema";
import { announceChange } from "./changes";
import { refreshQueueState } from "./refresh";
import type { OperationResult, SyncAnswer } from "./wire";

const KEPT_MS = 14 * 24 * 3600 * 1000;
/** Refusals that say nothing about the entry itself: it waits on. */
const WAITS_ON = new Set(["held_back", "not_your_login"]);

type Tx = Awaited<ReturnType<typeof begin>>;
async function begin() {
  const stores = ["queue", "entries", "sent", "worksheets", "photos"] as const;
  return (await benchDb()).transaction(stores, "readwrite", STRICT);
}

/** Takes in one answer of the server. On a full phone it only lets go of what the server has: the rest comes with a
 *  later answer, once there is room. Returns whether anything moved. */
export async function settle(answer: SyncAnswer, batch: QueuedEntry[], now = Date.now()): Promise<boolean> {
  const moved = await takeIn(answer, batch, now).catch((error: unknown) => {
    if (!isFull(error)) throw error;
    return letGo(answer, batch);
  });
  await refreshQueueState();
  announceChange();
  return moved;
}

/** All of an answer in one strict transaction. */
async function takeIn(answer: SyncAnswer, batch: QueuedEntry[], now: number): Promise<boolean> {
  const tx = await begin();
  const results = new Map(answer.results.map((result) => [result.id, result]));
  let moved = false;
  for (const one of batch) {
    const result = results.get(one.id);
    if (result) moved = (await settleOne(tx, one, result, now)) || moved;
  }
  for (const entry of Object.values(answer.newer).flat()) await tx.objectStore("entries").put(entry);
  await noteStages(tx, answer);
  await forgetOld(tx, now);
  await tx.done.catch((error: unknown) => {
    throw tx.error ?? error;
  });
  return moved;
}

async function letGo(answer: SyncAnswer, batch: QueuedEntry[]): Promise<boolean> {
  const there = new Set(answer.results.filter((one) => one.outcome !== "refused").map((one) => one.id));
  const tx = (await benchDb()).transaction("queue", "readwrite", STRICT);
  const gone = batch.filter((one) => there.has(one.id) && one.n !== undefined);
  for (const one of gone) await tx.store.delete(one.n ?? 0);
  await tx.done;
  return gone.length > 0;
}

async function settleOne(tx: Tx, one: QueuedEntry, result: OperationResult, now: number): Promise<boolean> {
  if (result.outcome === "refused") {
    if (WAITS_ON.has(result.code ?? "")) return false;
    const marked = { state: "refused", code: result.code ?? null, detail: result.detail ?? null } as const;
    await tx.objectStore("queue").put({ ...one, ...marked });
    return true;
  }
  if (one.n !== undefined) await tx.objectStore("queue").delete(one.n);
  await tx.objectStore("entries").put({ ...one.body, seq: result.seq ?? null });
  await tx.objectStore("sent").put({ id: one.id, maker: one.maker, body: one.body, acknowledged_at: now });
  return true;
}

async function noteStages(tx: Tx, answer: SyncAnswer): Promise<void> {
  for (const [id, told] of Object.entries(answer.worksheets)) {
    const kept = await tx.objectStore("worksheets").get(id);
    if (!kept) continue;
    const row = { ...kept.row, stage: told.stage as typeof kept.row.stage, last_seq: told.last_seq };
    await tx.objectStore("worksheets").put({ ...kept, row });
    await offerAgain(tx, id, told.last_seq);
  }
}

/** The shop went back to an older copy and lost what it had acknowledged: what we still keep waits once more. */
async function offerAgain(tx: Tx, record: string, lastSeq: number): Promise<void> {
  for (const entry of await tx.objectStore("entries").index("record").getAll(record)) {
    if (!entry.seq || entry.seq <= lastSeq) continue;
    const kept = await tx.objectStore("sent").get(entry.id);
    const waits = await tx.objectStore("queue").index("id").get(entry.id);
    if (!kept || waits) continue;
    const size = JSON.stringify(kept.body).length;
    const again = { id: kept.id, maker: kept.maker, record, body: kept.body, size };
    await tx.objectStore("queue").add({ ...again, state: "waiting", code: null, detail: null });
    await tx.objectStore("entries").put({ ...entry, seq: null });
    await photoAgain(tx, kept.body);
    await tx.objectStore("sent").delete(entry.id);
  }
}

/** The older copy may lack the photo as well; the server says at once if it has it. */
async function photoAgain(tx: Tx, { kind, value }: SentEntry["body"]): Promise<void> {
  const photo = kind === "photo" ? await tx.objectStore("photos").get(String(value["sha256"])) : undefined;
  if (photo) await tx.objectStore("photos").put({ ...photo, sent: false });
}

async function forgetOld(tx: Tx, now: number): Promise<void> {
  const index = tx.objectStore("sent").index("acknowledged_at");
  const old = await index.getAllKeys(IDBKeyRange.upperBound(now - KEPT_MS));
  for (const id of old) await tx.objectStore("sent").delete(id);
}

export async function refuse(one: QueuedEntry, code: string, detail: string): Promise<void> {
  await (await benchDb()).put("queue", { ...one, state: "refused", code, detail });
  await refreshQueueState();
  announceChange();
}

/** Its maker throws a refused entry away; what follows in its record goes on. */
export async function throwAway(one: QueuedEntry): Promise<void> {
  const tx = (await benchDb()).transaction(["queue", "entries"], "readwrite", STRICT);
  if (one.n !== undefined) await tx.objectStore("queue").delete(one.n);
  await tx.objectStore("entries").delete(one.id);
  await tx.done;
  await refreshQueueState();
  announceChange();
}

/** Its maker has put right what stood in the way: the entry waits again as it is. */
export async function tryAgain(one: QueuedEntry): Promise<void> {
  await (await benchDb()).put("queue", { ...one, state: "waiting", code: null, detail: null });
  await refreshQueueState();
  announceChange();
}
