import { prepareZXingModule } from "zxing-wasm/reader";
import { readCodes } from "./read";

type Asked = { wasm: ArrayBuffer } | { n: number; image: ImageData };

async function answer(asked: Asked): Promise<void> {
  if ("wasm" in asked) prepareZXingModule({ overrides: { wasmBinary: asked.wasm }, fireImmediately: false });
  else postMessage({ n: asked.n, seen: await readCodes(asked.image) });
}

addEventListener("message", (event: MessageEvent<Asked>) => {
  answer(event.data).catch((error: unknown) => {
    const n = "n" in event.data ? event.data.n : 0;
    postMessage({ n, seen: [], trouble: String(error) });
  });
});
