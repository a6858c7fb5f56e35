import { isFull } from "./room";

/** Keeps something; where there is no room, forgets what can be had again and tries once more. Throws StorageFull. */
export async function withRoom(write: () => Promise<void>): Promise<void> {
  try {
    await write();
  } catch (error) {
    if (!isFull(error)) throw error;
    await (await import("./make-room")).tryWithMoreRoom(write);
  }
}
