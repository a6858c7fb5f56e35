// What a phone loads before it shows anything: the entry and all it imports at once, whatever the chunks are called.
import { readFileSync } from "node:fs";

const manifest = JSON.parse(readFileSync("dist/manifest.json", "utf8"));

function loadedWith(name, seen = new Set()) {
  if (seen.has(name)) return seen;
  seen.add(name);
  for (const other of manifest[name].imports ?? []) loadedWith(other, seen);
  return seen;
}

const first = [...loadedWith("index.html")].map((name) => manifest[name]);
const built = (file) => `dist/${file}`;

export default [
  { name: "first JavaScript", path: first.map((part) => built(part.file)), limit: "60 kB", gzip: true },
  {
    name: "first styles",
    path: first.flatMap((part) => part.css ?? []).map(built),
    limit: "12 kB",
    gzip: true,
  },
  { name: "all styles", path: "dist/assets/*.css", limit: "28 kB", gzip: true },
  { name: "fonts", path: "dist/assets/*.woff2", limit: "60 kB", brotli: false, gzip: false },
  { name: "scanner's decoder", path: "dist/assets/*.wasm", limit: "430 kB", gzip: true },
  // With what sends the queue while the app is closed. It is fetched after the first screen, by the browser itself.
  { name: "service worker", path: "dist/sw.js", limit: "9 kB", gzip: true },
];
