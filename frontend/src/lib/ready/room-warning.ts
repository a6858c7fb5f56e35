import { t } from "$lib/words";
import { saidBytes } from "./said";
import { isNearlyFull, roomNow } from "./storage";

/** What to say before a photo of so many bytes is kept; null while there is room. */
export async function roomWarning(bytes: number): Promise<string | null> {
  const room = await roomNow();
  return isNearlyFull(room, bytes) ? t("storage.nearly_full", { free: saidBytes(room.free ?? 0) }) : null;
}
