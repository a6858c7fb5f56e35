import { readMeta, benchDb } from "$lib/db/open";
import type { Me } from "$lib/api/shapes";

export interface QueueCounts {
  /** Entries and photos of whoever is signed in that wait for the server. */
  waiting: number;
  refused: number;
  /** Bytes of all that is unsent, photos included. */
  bytes: number;
  photos: number;
  /** Entries of other people on this phone. */
  others: { name: string; count: number }[];
  /** When the oldest waiting entry was made, ISO. */
  oldest: string | null;
}

let show: (counts: QueueCounts) => void = () => undefined;

/** Who shows the counts; in the service worker nobody does. */
export function showCounts(by: typeof show): void {
  show = by;
}

/** Counts the queue anew for the screen and for the badge on the app's icon. `signedIn`: who, where the caller knows. */
export async function refreshQueueState(signedIn?: string | null): Promise<void> {
  const all = await (await benchDb()).getAll("queue");
  const me = signedIn === undefined ? ((await readMeta<Me>("me"))?.id ?? null) : signedIn;
  const mine = all.filter((one) => one.maker === me);
  const waiting = mine.filter((one) => one.state === "waiting").length;
  const others = new Map<string, number>();
  for (const one of all) {
    if (one.maker !== me) others.set(one.body.made_by_name, (others.get(one.body.made_by_name) ?? 0) + 1);
  }
  show({
    waiting,
    refused: mine.length - waiting,
    bytes: mine.reduce((sum, one) => sum + one.size, 0),
    photos: mine.filter((one) => one.body.kind === "photo").length,
    oldest: mine[0]?.body.made_at ?? null,
    others: [...others].map(([name, count]) => ({ name, count })),
  });
  if ("setAppBadge" in navigator) void navigator.setAppBadge(all.length).catch(() => undefined);
}
