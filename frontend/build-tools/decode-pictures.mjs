// Decodes pictures as the app's scanner does, with its own module and decoder file.
// node build-tools/decode-pictures.mjs FOLDER: FOLDER/*.pgm in, one line of JSON a picture out.
import { readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const folder = process.argv[2];
const root = fileURLToPath(new URL("..", import.meta.url));
const wasm = createRequire(import.meta.url).resolve("zxing-wasm/reader/zxing_reader.wasm");

/** A grey PGM (P5, 8 bit) as the pixels a canvas gives. */
function pixelsOf(file) {
  const bytes = readFileSync(file);
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString("latin1"));
  const [width, height] = [Number(head[1]), Number(head[2])];
  const grey = bytes.subarray(head[0].length);
  const data = new Uint8ClampedArray(width * height * 4).fill(255);
  for (let i = 0; i < grey.length; i++) data.fill(grey[i], 4 * i, 4 * i + 3);
  return { data, width, height };
}

const vite = await createServer({
  root,
  configFile: false,
  logLevel: "error",
  appType: "custom",
  server: { middlewareMode: true, ws: false, watch: null },
});
try {
  const { prepareZXingModule } = await import("zxing-wasm/reader");
  prepareZXingModule({ overrides: { wasmBinary: readFileSync(wasm).buffer } });
  const { readCodes } = await vite.ssrLoadModule("/src/lib/scan/read.ts");
  for (const name of readdirSync(folder)
    .filter((one) => one.endsWith(".pgm"))
    .sort()) {
    const image = pixelsOf(join(folder, name));
    const before = performance.now();
    const seen = await readCodes(image);
    const ms = performance.now() - before;
    console.log(JSON.stringify({ name: name.slice(0, -4), texts: seen.map((one) => one.text), ms }));
  }
} finally {
  await vite.close();
}
