// Where the browser can, it wakes our service worker once there is network, also with the app closed.
import { onCallOutcome } from "$lib/api/call";
import { queueState } from "$lib/queue/state.svelte";

interface SyncManager {
  register: (tag: string) => Promise<void>;
}

/** Asks to be woken for what waits. Chromium has this, others do not; refused or missing, the app sends when opened. */
async function askToBeWoken(): Promise<void> {
  if (!queueState.waiting || !("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.getRegistration("/app/");
  const sync = (registration as { sync?: SyncManager } | undefined)?.sync;
  await sync?.register("queue").catch(() => undefined);
}

/** Asks whenever something waits and the shop was not reached, or the app goes out of sight. Returns how to stop. */
export function watchForBackground(): () => void {
  const hidden = () => {
    if (document.visibilityState === "hidden") void askToBeWoken();
  };
  document.addEventListener("visibilitychange", hidden);
  const stopListening = onCallOutcome((event) => {
    if (event === "unreachable") void askToBeWoken();
  });
  return () => {
    document.removeEventListener("visibilitychange", hidden);
    stopListening();
  };
}
