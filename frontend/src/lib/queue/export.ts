import { benchDb } from "$lib/db/open";
import type { QueuedEntry } from "$lib/db/schema";

async function asText(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer());
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}

/** Everything unsent on this phone as one JSON file, photos in base64: the last way out for a phone that cannot send. */
export async function exportQueue(entries: QueuedEntry[]): Promise<Blob> {
  const db = await benchDb();
  const photos: Record<string, string> = {};
  for (const one of entries) {
    const hash = one.body.kind === "photo" ? String(one.body.value["sha256"]) : null;
    const photo = hash ? await db.get("photos", hash) : undefined;
    if (photo && !photo.sent) photos[photo.sha256] = await asText(photo.blob);
  }
  const file = {
    format: 1,
    made_at: new Date().toISOString(),
    operations: entries.map((one) => one.body),
    photos,
  };
  return new Blob([JSON.stringify(file, null, 1)], { type: "application/json" });
}

export function offerFile(blob: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
