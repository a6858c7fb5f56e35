import { byText } from "$lib/by-text";
import { SaidError } from "$lib/api/call";
import { t } from "$lib/words";
import "$lib/words/queue";
import { benchDb } from "./open";
import { isFull } from "./room";
import type { KeptPhoto } from "./schema";

/** There is no room for what was to be kept; nothing of it was. */
export class StorageFull extends SaidError {
  constructor() {
    super(t("storage.full"));
  }
}

/** Photos the shop has are kept this long, so that they can be offered again should it restore an older copy. */
const OFFER_AGAIN_MS = 14 * 24 * 3600 * 1000;
/** And at most so many bytes of them; the server has them all. */
const MOST_BYTES = 80_000_000;

/** Forgets photos that the shop has: the old ones of no worksheet on the phone, and beyond a bound the oldest. */
export async function forgetSentPhotos(now = Date.now(), most = MOST_BYTES): Promise<void> {
  const db = await benchDb();
  const shown = await photosOnWorksheets();
  let bytes = 0;
  for (const photo of await sentPhotos()) {
    const isOld = Date.parse(photo.made_at) < now - OFFER_AGAIN_MS && !shown.has(photo.sha256);
    bytes += photo.size;
    if (isOld || bytes > most) await db.delete("photos", photo.sha256);
  }
}

type Sent = Pick<KeptPhoto, "sha256" | "made_at"> & { size: number };

/** Newest first; one after the other, since all their bytes at once would be too much for a small phone. */
async function sentPhotos(): Promise<Sent[]> {
  const found: Sent[] = [];
  const tx = (await benchDb()).transaction("photos");
  for (let cursor = await tx.store.openCursor(); cursor; cursor = await cursor.continue()) {
    const { sha256, made_at, sent, blob } = cursor.value;
    if (sent) found.push({ sha256, made_at, size: blob.size });
  }
  return found.sort((a, b) => byText(b.made_at, a.made_at));
}

async function photosOnWorksheets(): Promise<Set<string>> {
  const db = await benchDb();
  const shown = new Set<string>();
  for (const record of await db.getAllKeys("worksheets")) {
    const entries = await db.getAllFromIndex("entries", "record", record);
    for (const { kind, value } of entries) if (kind === "photo") shown.add(String(value["sha256"]));
  }
  return shown;
}

/** The last resort before an entry cannot be kept: all that the server can give again and no step needs. */
export async function makeRoom(): Promise<void> {
  await forgetSentPhotos(Date.now(), 0);
  await (await benchDb()).clear("answers");
}

/** Makes room and writes once more. Throws StorageFull. */
export async function tryWithMoreRoom(write: () => Promise<void>): Promise<void> {
  await makeRoom();
  await write().catch((still: unknown) => {
    throw isFull(still) ? new StorageFull() : still;
  });
}
