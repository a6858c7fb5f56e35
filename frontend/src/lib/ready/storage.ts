/** What the browser says of the room on this device; numbers are bytes and rough. */
export interface Room {
  /** Whether the browser has promised to clear nothing by itself; null: it cannot say. */
  persisted: boolean | null;
  used: number | null;
  free: number | null;
}
/** A worksheet with its photos takes about so much: with less free, the next photo may find no room. */
const LITTLE = 30_000_000;

// Typed as always there; missing over plain HTTP and in old browsers.
const manager = () => navigator.storage as StorageManager | undefined;

export async function roomNow(): Promise<Room> {
  const persisted = (await manager()?.persisted?.()) ?? null;
  const { usage, quota } = (await manager()?.estimate?.()) ?? {};
  if (usage === undefined || quota === undefined) return { persisted, used: null, free: null };
  return { persisted, used: usage, free: Math.max(0, quota - usage) };
}

/** Whether so little is free that a photo of this many bytes should wait. */
export function isNearlyFull(room: Room, bytes = 0): boolean {
  return room.free !== null && room.free - bytes < LITTLE;
}

/** Asks the browser to clear nothing by itself; answers whether it agreed. */
export async function askToPersist(): Promise<boolean> {
  return (await manager()?.persist?.()) ?? false;
}

/** On iOS what a page keeps may go after 7 days without a visit, unless it is on the home screen. */
export function needsHomeScreen(): boolean {
  return "standalone" in navigator && navigator.standalone === false;
}
