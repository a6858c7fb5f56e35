/** The service worker that keeps the shell, and the new version that may wait behind it. */
export const shell = $state({ newVersion: false, offlineReady: false });

let waiting: ServiceWorker | null = null;

/** How often an open app asks for a new version: benches leave it open for days. */
const ASK_EVERY_MS = 30 * 60 * 1000;

/** A worker that waits behind one that is at work; the very first one takes over by itself. */
function noteWaiting(registration: ServiceWorkerRegistration): void {
  if (!registration.waiting || !registration.active) return;
  waiting = registration.waiting;
  shell.newVersion = true;
}

function watchComing(registration: ServiceWorkerRegistration): void {
  registration.installing?.addEventListener("statechange", () => noteWaiting(registration));
}

/** Says when a new version waits: one that is there, one that is coming, and those that come later. */
export function watchForNew(registration: ServiceWorkerRegistration): void {
  noteWaiting(registration);
  // It may have been found before anybody listened.
  watchComing(registration);
  registration.addEventListener("updatefound", () => watchComing(registration));
}

/** Asks now and then, and whenever the app comes back to the front. Without network it asks later. */
function keepAsking(registration: ServiceWorkerRegistration): void {
  const ask = () => void registration.update().catch(() => undefined);
  setInterval(ask, ASK_EVERY_MS);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") ask();
  });
}

export async function startWorker(): Promise<void> {
  if (!("serviceWorker" in navigator) || import.meta.env.DEV) return;
  shell.offlineReady = navigator.serviceWorker.controller !== null;
  const options = { scope: "/app/", updateViaCache: "none" } as const;
  const found = await navigator.serviceWorker.register("/app/sw.js", options).catch(() => null);
  if (!found) return;
  watchForNew(found);
  keepAsking(found);
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
