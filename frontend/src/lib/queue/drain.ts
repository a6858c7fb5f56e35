import type { Entry } from "$lib/api/work-shapes";
import { benchDb } from "$lib/db/open";
import { isFull } from "$lib/db/room";
import type { KeptPhoto, QueuedEntry } from "$lib/db/schema";
import { refuse, settle } from "./settle";
import type { Known, SyncAnswer } from "./wire";

const MOST_OPERATIONS = 100;
const MOST_BYTES = 900_000;

/** Why a photo was refused; an ApiError is one. */
export interface Refused {
  code: string;
  message: string;
}
/** How the queue reaches the server; null: not now (no network, signed out, too busy). */
export interface Line {
  send: (entries: Entry[], known: Known) => Promise<SyncAnswer | null>;
  upload: (photo: KeptPhoto) => Promise<"done" | "later" | Refused>;
}

/** How it went: all that could be sent was; not now; or another tab, or the service worker, is at it. */
export type Drained = "done" | "later" | "elsewhere";

/** Sends what waits, oldest first, in batches. An entry leaves the queue only once the server has answered for it; one
 *  that is refused stays and holds back its own record until its maker mends it or throws it away. With nothing to send
 *  it asks what others recorded. */
export async function drain(line: Line, me: string): Promise<Drained> {
  return navigator.locks.request("queue", { ifAvailable: true }, async (lock) => {
    if (!lock) return "elsewhere";
    return (await sendAll(line, me)) ? "done" : "later";
  });
}

async function sendAll(line: Line, me: string): Promise<boolean> {
  let heard = false;
  for (let batch = await nextBatch(me); batch.length; batch = await nextBatch(me)) {
    const ready = await withPhotosSent(batch, line);
    if (ready === null) return false;
    if (!ready.length) continue;
    const answer = await line.send(
      ready.map((one) => one.body),
      await knownSeqs(),
    );
    if (answer === null) return false;
    if (!(await settle(answer, ready))) return false;
    heard = true;
  }
  return heard || hear(line);
}

/** Two on one worksheet see each other's entries: every answer brings what is new, so an empty batch asks for it. */
async function hear(line: Line): Promise<boolean> {
  const known = await knownSeqs();
  if (!Object.keys(known).length) return true;
  const answer = await line.send([], known);
  if (answer && (await hasNews(answer))) await settle(answer, []);
  return answer !== null;
}

/** Whether an answer changes anything on the phone: without news no screen is drawn anew. */
async function hasNews(answer: SyncAnswer): Promise<boolean> {
  if (Object.values(answer.newer).some((entries) => entries.length)) return true;
  const db = await benchDb();
  for (const [id, told] of Object.entries(answer.worksheets)) {
    const row = (await db.get("worksheets", id))?.row;
    if (row && (row.stage !== told.stage || row.last_seq !== told.last_seq)) return true;
  }
  return false;
}

/** The oldest waiting entries of this person, without records that a refused one holds back. */
export async function nextBatch(me: string): Promise<QueuedEntry[]> {
  const mine = (await (await benchDb()).getAll("queue")).filter((one) => one.maker === me);
  const heldBack = new Set(mine.filter((one) => one.state === "refused").map((one) => one.record));
  const batch: QueuedEntry[] = [];
  let bytes = 0;
  for (const one of mine) {
    if (one.state !== "waiting" || heldBack.has(one.record)) continue;
    bytes += JSON.stringify(one.body).length;
    if (batch.length && (batch.length >= MOST_OPERATIONS || bytes > MOST_BYTES)) break;
    batch.push(one);
  }
  return batch;
}

/** Photos go before the entries that name them. null: not now. A photo that is refused takes its entry out. */
async function withPhotosSent(batch: QueuedEntry[], line: Line): Promise<QueuedEntry[] | null> {
  const stopped = new Set<string>();
  for (const one of batch) {
    if (one.body.kind !== "photo" || stopped.has(one.record)) continue;
    const outcome = await sendPhoto(String(one.body.value["sha256"]), line);
    if (outcome === "later") return null;
    if (outcome !== "done") {
      await refuse(one, outcome.code, outcome.message);
      stopped.add(one.record);
    }
  }
  return batch.filter((one) => !stopped.has(one.record));
}

async function sendPhoto(sha256: string, line: Line): Promise<"done" | "later" | Refused> {
  const db = await benchDb();
  const photo = await db.get("photos", sha256);
  if (!photo || photo.sent) return "done";
  const outcome = await line.upload(photo);
  if (outcome === "done") await noteSent(photo);
  return outcome;
}

/** On a full phone a photo that the server has goes, so that its entry can go out and others find room. */
async function noteSent(photo: KeptPhoto): Promise<void> {
  const db = await benchDb();
  await db.put("photos", { ...photo, sent: true }).catch((error: unknown) => {
    if (!isFull(error)) throw error;
    return db.delete("photos", photo.sha256);
  });
}

/** The last `seq` we hold of each record, so that the server can add what others recorded. */
export async function knownSeqs(records?: string[]): Promise<Known> {
  const db = await benchDb();
  const wanted = records ?? (await db.getAllKeys("worksheets"));
  const known: Known = {};
  for (const record of wanted) {
    const entries = await db.getAllFromIndex("entries", "record", record);
    known[record] = unbroken(entries.map((entry) => entry.seq ?? 0));
  }
  return known;
}

/** The end of the unbroken run from 1: a gap means an entry of someone else has not come yet. */
function unbroken(seqs: number[]): number {
  const found = new Set(seqs);
  let last = 0;
  while (found.has(last + 1)) last += 1;
  return last;
}
