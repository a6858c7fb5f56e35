/// <reference lib="webworker" />
// Keeps the shell of the app, and nothing else: entries, packs and pictures are the app's own business.
interface KeptFile {
  address: string;
  hash: string;
}
declare const __AT_ONCE__: KeptFile[];
declare const __LATER__: KeptFile[];
const worker = self as unknown as ServiceWorkerGlobalScope;

const NAME = "shell";
const key = (file: KeptFile) => (file.hash ? `${file.address}?kept=${file.hash}` : file.address);
const keys = new Map([...__AT_ONCE__, ...__LATER__].map((file) => [file.address, key(file)]));

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

async function dropOld(): Promise<void> {
  const cache = await caches.open(NAME);
  const wanted = new Set([...keys.values()].map((path) => new URL(path, worker.location.origin).href));
  const old = (await cache.keys()).filter((request) => !wanted.has(request.url));
  await Promise.all(old.map((request) => cache.delete(request)));
}

function fileFor(request: Request): KeptFile | undefined {
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== worker.location.origin) return undefined;
  const address = request.mode === "navigate" && url.pathname.startsWith("/app/") ? "/app/" : url.pathname;
  return [...__AT_ONCE__, ...__LATER__].find((file) => file.address === address);
}

worker.addEventListener("install", (event) => event.waitUntil(Promise.all(__AT_ONCE__.map(keep))));
worker.addEventListener("activate", (event) => event.waitUntil(dropOld().then(() => worker.clients.claim())));
worker.addEventListener("fetch", (event) => {
  const file = fileFor(event.request);
  if (file) event.respondWith(keep(file));
});
worker.addEventListener("message", (event) => {
  if (event.data === "take_over") void worker.skipWaiting();
  if (event.data === "keep_decoder") event.waitUntil(Promise.all(__LATER__.map(keep)));
});
