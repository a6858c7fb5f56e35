import { readMeta, benchDb } from "$lib/db/open";
import type { Me } from "$lib/api/shapes";
import { queueState } from "./state.svelte";

/** Counts the queue anew for the screen and for the badge on the app's icon. `signedIn`: who, where the caller knows. */
export async function refreshQueueState(signedIn?: string | null): Promise<void> {
  const all = await (await benchDb()).getAll("queue");
  const me = signedIn === undefined ? ((await readMeta<Me>("me"))?.id ?? null) : signedIn;
  const mine = all.filter((one) => one.maker === me);
  queueState.waiting = mine.filter((one) => one.state === "waiting").length;
  queueState.refused = mine.length - queueState.waiting;
  queueState.oldest = mine[0]?.body.made_at ?? null;
  const others = new Map<string, number>();
  for (const one of all) {
    if (one.maker !== me) others.set(one.body.made_by_name, (others.get(one.body.made_by_name) ?? 0) + 1);
  }
  queueState.others = [...others].map(([name, count]) => ({ name, count }));
  if ("setAppBadge" in navigator) void navigator.setAppBadge(all.length).catch(() => undefined);
}
