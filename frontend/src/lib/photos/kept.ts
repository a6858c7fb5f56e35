import { benchDb } from "$lib/db/open";

/** A picture that lies on the phone: taken here, or come with a pack. */
export async function keptPicture(sha256: string): Promise<Blob | null> {
  const db = await benchDb();
  const found = (await db.get("photos", sha256)) ?? (await db.get("pictures", sha256));
  return found?.blob ?? null;
}
