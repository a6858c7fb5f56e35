/// <reference lib="webworker" />
// Keeps the shell of the app, and sends what waits when the app is closed: packs and pictures are the app's own business.
import { announceChange } from "$lib/queue/changes";
import { sendInBackground } from "$lib/queue/in-worker";

interface KeptFile {
  address: string;
  hash: string;
}
declare const __AT_ONCE__: KeptFile[];
declare const __LATER__: KeptFile[];
// Each list once: the build writes it wherever it is named.
const AT_ONCE = __AT_ONCE__;
const LATER = __LATER__;
const FILES = [...AT_ONCE, ...LATER];
const worker = self as unknown as ServiceWorkerGlobalScope;

const NAME = "shell";
const PARTS = `${worker.location.origin}/static/app/assets/`;
const key = (file: KeptFile) => (file.hash ? `${file.address}?kept=${file.hash}` : file.address);
const keys = new Map(FILES.map((file) => [file.address, key(file)]));

async function keep(file: KeptFile): Promise<Response> {
  const cache = await caches.open(NAME);
  const there = await cache.match(key(file));
  if (there) return there;
  const answer = await fetch(file.address, { cache: "reload" });
  // A redirect would store a login page in place of the app.
  if (!answer.ok || answer.redirected) throw new Error(`cannot keep ${file.address}`);
  await cache.put(key(file), answer.clone());
  return answer;
}

/** Drops what only the version before needed, unless another window may still show it. */
async function dropOld(): Promise<void> {
  const windows = await worker.clients.matchAll({ type: "window", includeUncontrolled: true });
  // What a version that comes, or waits to take over, has kept is not old but not known here yet.
  const isLast = !worker.registration.installing && !worker.registration.waiting;
  if (windows.length > 1 || !isLast) return;
  const cache = await caches.open(NAME);
  const wanted = new Set([...keys.values()].map((path) => new URL(path, worker.location.origin).href));
  const old = (await cache.keys()).filter((request) => !wanted.has(request.url));
  await Promise.all(old.map((request) => cache.delete(request)));
}

function fileFor(request: Request): KeptFile | undefined {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return undefined;
  const address = request.mode === "navigate" && url.pathname.startsWith("/app/") ? "/app/" : url.pathname;
  return FILES.find((file) => file.address === address);
}

/** A part of the version before: the server has it no longer. */
async function oldPart(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

worker.addEventListener("install", (event) => event.waitUntil(Promise.all(AT_ONCE.map(keep))));
worker.addEventListener("activate", (event) => event.waitUntil(dropOld().then(() => worker.clients.claim())));
worker.addEventListener("fetch", (event) => {
  const file = fileFor(event.request);
  // Storage may be full: then it is shown all the same.
  if (file) event.respondWith(keep(file).catch(() => fetch(event.request)));
  else if (event.request.url.startsWith(PARTS)) event.respondWith(oldPart(event.request));
});
worker.addEventListener("message", (event) => {
  if (event.data === "take_over") event.waitUntil(worker.skipWaiting());
  if (event.data === "keep_decoder")
    event.waitUntil(Promise.all([...LATER.map(keep), dropOld()]).then(announceChange));
});
// A timer that rang while the app was out of sight: a tap brings its step up, in the window that is there.
worker.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const { address } = event.notification.data as { address: string };
  event.waitUntil(
    worker.clients.matchAll({ type: "window" }).then(async ([window]) => {
      await (window
        ? window.navigate(address).then((shown) => shown?.focus())
        : worker.clients.openWindow(address));
    }),
  );
});
// Where the browser knows background sync, it wakes us once there is network.
worker.addEventListener("sync", (event) => {
  if ((event as ExtendableEvent & { tag: string }).tag === "queue")
    (event as ExtendableEvent).waitUntil(sendInBackground());
});
