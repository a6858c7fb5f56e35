/** Photos up to this many bytes go in one request: asking where to go on would cost as much as sending again. */
export const WHOLE = 96_000;
const SMALLEST_PART = 64 * 1024;
const LARGEST_PART = 256 * 1024;
/** A part that takes longer was too large for this link; one that takes a fourth of it may be larger. */
const PATIENT_MS = 4_000;
/** How often in a row nothing gets through before we wait for a better time. */
const MOST_DROPS = 4;
const PARTIAL = "application/partial-upload";

export interface Sent {
  offset: number;
  complete: boolean;
}
export interface Asked {
  query?: Record<string, string>;
  body?: Blob;
  headers?: Record<string, string>;
  patience?: number;
}
/** One request to `/api/v1/<path>`, by the app or by its service worker. Throws what `isDrop` knows, or a Refusal. */
export type Ask = (method: "GET" | "PUT" | "PATCH", path: string, asked: Asked) => Promise<unknown>;
/** What a refusal says beside its code: where the server wants the next part. */
export interface Refusal {
  code: string;
  facts?: Readonly<Record<string, unknown>>;
}
export interface PhotoToSend {
  sha256: string;
  blob: Blob;
  repair: string;
}
interface Way {
  ask: Ask;
  /** Whether an error says that no answer came, and the same may be tried again at once. */
  isDrop: (error: unknown) => boolean;
  /** How many bytes the server has, for the screen. */
  tell?: (bytes: number) => void;
  pause?: (milliseconds: number) => Promise<void>;
}

const wait = (milliseconds: number) => new Promise<void>((done) => setTimeout(done, milliseconds));
const codeOf = (error: unknown) => (error as Partial<Refusal> | null)?.code;
let partSize = LARGEST_PART / 2;

/** Brings a photo to the server, from where the server says it left off. A repeat does no harm. */
export async function sendPhoto(photo: PhotoToSend, way: Way): Promise<void> {
  if (photo.blob.size <= WHOLE) return putWhole(photo, way);
  try {
    await sendParts(photo, way);
  } catch (error) {
    // The parts kept there were damaged, and are gone now.
    if (codeOf(error) !== "photo_hash_differs") throw error;
    await putWhole(photo, way);
  }
}

async function putWhole({ sha256, blob, repair }: PhotoToSend, way: Way): Promise<void> {
  await way.ask("PUT", `photos/${sha256}/`, { query: { repair }, body: blob, patience: 60_000 });
}

async function sendParts(photo: PhotoToSend, way: Way): Promise<void> {
  let at: Sent | null = null;
  for (let drops = 0; !at?.complete;) {
    try {
      const next: Sent = at ? await sendPart(photo, at.offset, way) : await whereNow(photo, way);
      // Whoever sent it before us: it still has to be told to which repair it belongs.
      at = next.complete && !at ? await sendPart(photo, photo.blob.size, way) : next;
      way.tell?.(at.offset);
      drops = 0;
    } catch (error) {
      at = movedTo(error);
      if (!at && !way.isDrop(error)) throw error;
      partSize = Math.max(SMALLEST_PART, partSize / 2);
      if (++drops > MOST_DROPS) throw error;
      await (way.pause ?? wait)(250 * drops);
    }
  }
}

async function whereNow({ sha256 }: PhotoToSend, way: Way): Promise<Sent> {
  return (await way.ask("GET", `photos/${sha256}/upload/`, { patience: 15_000 })) as Sent;
}

/** Another tab was quicker, or an answer was lost: the server names the place to go on. */
function movedTo(error: unknown): Sent | null {
  if (codeOf(error) !== "upload_offset_differs") return null;
  return { offset: Number((error as Refusal).facts?.["expected_offset"] ?? 0), complete: false };
}

async function sendPart({ sha256, blob, repair }: PhotoToSend, offset: number, way: Way): Promise<Sent> {
  const end = Math.min(offset + partSize, blob.size);
  const headers = {
    "Upload-Offset": String(offset),
    "Upload-Complete": end === blob.size ? "?1" : "?0",
  };
  const began = performance.now();
  const asked = { query: { repair }, headers, body: blob.slice(offset, end, PARTIAL), patience: 30_000 };
  const sent = (await way.ask("PATCH", `photos/${sha256}/upload/`, asked)) as Sent;
  fitParts(performance.now() - began);
  return sent;
}

function fitParts(took: number): void {
  if (took > PATIENT_MS) partSize = Math.max(SMALLEST_PART, partSize / 2);
  else if (took < PATIENT_MS / 4) partSize = Math.min(LARGEST_PART, partSize * 2);
}
