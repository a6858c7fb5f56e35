import { benchDb } from "$lib/db/open";
import type { QueuedEntry } from "$lib/db/schema";

/** What is unsent of one record, and which of its photos the shop has already. */
export interface RecordWaiting {
  id: string;
  /** Of its worksheet; null for the bench log of a repair, or where the worksheet is no longer on the phone. */
  title: string | null;
  isLog: boolean;
  unit: string | null;
  refused: QueuedEntry[];
  waiting: QueuedEntry[];
  sentPhotos: Set<string>;
  bytes: number;
}

/** The queue by record, those with a refused entry first, else in the order of making. */
export async function byRecord(queued: QueuedEntry[]): Promise<RecordWaiting[]> {
  const ids = [...new Set(queued.map((one) => one.record))];
  const found = await Promise.all(
    ids.map((id) =>
      recordOf(
        id,
        queued.filter((one) => one.record === id),
      ),
    ),
  );
  return found.sort((a, b) => Number(b.refused.length > 0) - Number(a.refused.length > 0));
}

async function recordOf(id: string, queued: QueuedEntry[]): Promise<RecordWaiting> {
  const db = await benchDb();
  const body = queued[0]?.body;
  const sheet = await db.get("worksheets", id);
  const repair = body && (await db.get("repairs", body.repair))?.repair;
  return {
    id,
    title: sheet?.row.title ?? null,
    isLog: body?.worksheet === null,
    unit: repair ? `${repair.unit.make} ${repair.unit.model}` : null,
    refused: queued.filter((one) => one.state === "refused"),
    waiting: queued.filter((one) => one.state === "waiting"),
    sentPhotos: await sentAmong(queued),
    bytes: queued.reduce((sum, one) => sum + one.size, 0),
  };
}

/** The photo that an entry brings; null without one. */
export function photoOf({ body }: QueuedEntry): string | null {
  return body.kind === "photo" ? String(body.value["sha256"]) : null;
}

async function sentAmong(queued: QueuedEntry[]): Promise<Set<string>> {
  const db = await benchDb();
  const sent = new Set<string>();
  for (const one of queued) {
    const hash = photoOf(one);
    if (hash && (await db.get("photos", hash))?.sent) sent.add(hash);
  }
  return sent;
}
