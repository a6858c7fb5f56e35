import { call, NoNetwork } from "$lib/api/call";
import type { Entry } from "$lib/api/work-shapes";
import { onItsWay } from "./progress.svelte";
import { sendPhoto, type Ask } from "./upload";
import { syncBody, type Known, type SyncAnswer } from "./wire";

export type { Known, OperationResult, SyncAnswer } from "./wire";

/** One sync request. Throws NoNetwork or ApiError. */
export async function sendOperations(entries: Entry[], known: Known, deviceId?: string): Promise<SyncAnswer> {
  const body = syncBody(entries, known, deviceId);
  return (await call<SyncAnswer>("POST", "sync/", { body, patience: 30_000 })).value;
}

const ask: Ask = async (method, path, asked) => (await call(method, path, asked)).value;

/** Brings one photo to the server, in parts where it is large; a repeat does no harm. Throws NoNetwork or ApiError. */
export async function uploadPhoto(sha256: string, blob: Blob, repair: string): Promise<void> {
  const tell = (sent: number) => (onItsWay.photo = { sha256, sent, of: blob.size });
  tell(0);
  try {
    await sendPhoto({ sha256, blob, repair }, { ask, tell, isDrop: (error) => error instanceof NoNetwork });
  } finally {
    onItsWay.photo = null;
  }
}
