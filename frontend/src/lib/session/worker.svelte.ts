import { afterFirstScreen } from "$lib/ready/first-screen";
import { hasLooseText } from "./typed";

/** The service worker that keeps the shell, and the new version that may wait behind it. */
export const shell = $state({
  newVersion: false,
  offlineReady: false,
  /** The last version that came could not be kept, as when the storage is full. */
  notKept: false,
  /** Somebody wanted the new version while text on the screen is kept nowhere. */
  wouldLose: false,
});

let waiting: ServiceWorker | null = null;
let taking = false;

/** How often an open app asks for a new version: benches leave it open for days. */
const ASK_EVERY_MS = 30 * 60 * 1000;

/** A worker that waits behind one that is at work; the very first one takes over by itself. */
function noteWaiting(registration: ServiceWorkerRegistration): void {
  if (!registration.waiting || !registration.active) return;
  waiting = registration.waiting;
  shell.newVersion = true;
}

function watchComing(registration: ServiceWorkerRegistration): void {
  const coming = registration.installing;
  let arrived = false;
  coming?.addEventListener("statechange", () => {
    arrived ||= coming.state === "installed";
    shell.notKept = coming.state === "redundant" && !arrived;
    noteWaiting(registration);
  });
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

/** Reloads where the new version was asked for. Another tab stays as it is, with its text, and is told. */
export function followTakeOver(container: ServiceWorkerContainer): void {
  // The very first worker takes over a page that is already of its version.
  let before = container.controller;
  container.addEventListener("controllerchange", () => {
    if (taking) location.reload();
    waiting = null;
    shell.newVersion ||= before !== null;
    before = container.controller;
  });
}

export async function startWorker(): Promise<void> {
  if (!("serviceWorker" in navigator) || import.meta.env.DEV) return;
  shell.offlineReady = navigator.serviceWorker.controller !== null;
  followTakeOver(navigator.serviceWorker);
  // Keeping the whole app would take the network and the processor from the first screen.
  await afterFirstScreen();
  const options = { scope: "/app/", updateViaCache: "none" } as const;
  const found = await navigator.serviceWorker.register("/app/sw.js", options).catch(() => null);
  shell.notKept = !found;
  if (!found) return;
  watchForNew(found);
  keepAsking(found);
  const ready = await navigator.serviceWorker.ready;
  shell.offlineReady = true;
  // The decoder is larger than all the rest: fetched once nothing else is waiting.
  setTimeout(() => ready.active?.postMessage("keep_decoder"), 2000);
  void navigator.storage.persist();
}

/** Reloads with the new version; asks once more where that would lose text. */
export function takeNewVersion(): void {
  const sure = shell.wouldLose;
  shell.wouldLose = hasLooseText();
  if (shell.wouldLose && !sure) return;
  taking = true;
  if (waiting) waiting.postMessage("take_over");
  else location.reload();
}
