import { ApiError } from "$lib/api/call";
import { benchDb, STRICT } from "$lib/db/open";
import type { KeptPhoto } from "$lib/db/schema";
import type { ShrunkPhoto } from "$lib/photos/shrink";
import { uploadPhoto } from "$lib/queue/send";

/** Keeps a photo on this device until the server has it. */
export async function keepPhoto(photo: ShrunkPhoto, repair: string, maker: string): Promise<void> {
  const { sha256, blob } = photo;
  const kept: KeptPhoto = { sha256, blob, repair, maker, sent: false, made_at: new Date().toISOString() };
  const tx = (await benchDb()).transaction("photos", "readwrite", STRICT);
  await Promise.all([tx.store.put(kept), tx.done]);
}

async function unsent(repair: string): Promise<KeptPhoto[]> {
  return (await (await benchDb()).getAll("photos")).filter((photo) => photo.repair === repair && !photo.sent);
}

/** Brings the photos of a booked repair to the server. Answers how many still wait; a refused one counts too. */
export async function sendPhotos(repair: string, send = uploadPhoto): Promise<number> {
  let left = 0;
  for (const photo of await unsent(repair)) {
    try {
      await send(photo.sha256, photo.blob, repair);
      await (await benchDb()).put("photos", { ...photo, sent: true });
    } catch (error) {
      left += 1;
      if (!(error instanceof ApiError)) break;
    }
  }
  return left;
}

/** Repairs whose photos this person took at the desk and that have not all arrived. */
export async function repairsWithPhotosLeft(maker: string, except: string | undefined): Promise<string[]> {
  const all = await (await benchDb()).getAll("photos");
  const left = all.filter((photo) => !photo.sent && photo.maker === maker && photo.repair !== except);
  return [...new Set(left.map((photo) => photo.repair))];
}
