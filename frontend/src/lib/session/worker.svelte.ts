/** The service worker that keeps the shell, and the new version that may wait behind it. */
export const shell = $state({ newVersion: false, offlineReady: false });

let waiting: ServiceWorker | null = null;

function noteWaiting(worker: ServiceWorker | null): void {
  if (!worker || !navigator.serviceWorker.controller) return;
  waiting = worker;
  shell.newVersion = true;
}

export async function startWorker(): Promise<void> {
  if (!("serviceWorker" in navigator) || import.meta.env.DEV) return;
  shell.offlineReady = navigator.serviceWorker.controller !== null;
  const options = { scope: "/app/", updateViaCache: "none" } as const;
  const found = await navigator.serviceWorker.register("/app/sw.js", options).catch(() => null);
  if (!found) return;
  noteWaiting(found.waiting);
  found.addEventListener("updatefound", () => {
    const coming = found.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed") noteWaiting(coming);
    });
  });
  const ready = await navigator.serviceWorker.ready;
  shell.offlineReady = true;
  // The decoder is larger than all the rest: fetched once nothing else is waiting.
  setTimeout(() => ready.active?.postMessage("keep_decoder"), 4000);
  void navigator.storage.persist();
}

export function takeNewVersion(): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting?.postMessage("take_over");
}
