import { prepareZXingModule, readBarcodes, type ReaderOptions } from "zxing-wasm/reader";

// Found best on tilted, dim and small labels: tries a picture of half the size as well.
const OPTIONS: ReaderOptions = {
  formats: ["QRCode", "DataMatrix"],
  tryHarder: true,
  tryRotate: true,
  tryInvert: false,
  downscaleFactor: 2,
  downscaleThreshold: 300,
  maxNumberOfSymbols: 1,
};

type Asked = { wasm: ArrayBuffer } | { n: number; image: ImageData };

async function answer(asked: Asked): Promise<void> {
  if ("wasm" in asked) {
    prepareZXingModule({ overrides: { wasmBinary: asked.wasm }, fireImmediately: false });
    return;
  }
  const found = await readBarcodes(asked.image, OPTIONS);
  postMessage({ n: asked.n, text: found.find((one) => one.isValid)?.text ?? null });
}

addEventListener("message", (event: MessageEvent<Asked>) => {
  answer(event.data).catch((error: unknown) => {
    const n = "n" in event.data ? event.data.n : 0;
    postMessage({ n, text: null, trouble: String(error) });
  });
});
