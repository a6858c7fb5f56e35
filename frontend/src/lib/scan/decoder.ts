import wasmAddress from "zxing-wasm/reader/zxing_reader.wasm?url";
// Inline: a worker below /static/ would lie outside the service worker's scope and not start without network.
import DecoderWorker from "./decoder.worker?worker&inline";
import type { Seen } from "./read";

const LONGEST_SIDE = 1280;

export interface Decoder {
  /** The codes in the picture, as `readCodes` finds them. */
  decode: (image: ImageData) => Promise<Seen[]>;
  close: () => void;
}

/** Starts the decoder. Its wasm comes through the page, so that the service worker can answer for it. */
export async function openDecoder(): Promise<Decoder> {
  const answer = await fetch(wasmAddress);
  if (!answer.ok) throw new Error("the decoder could not be loaded");
  const wasm = await answer.arrayBuffer();
  const worker = new DecoderWorker();
  const waiting = new Map<number, (seen: Seen[]) => void>();
  let n = 0;
  worker.addEventListener("message", (event: MessageEvent<{ n: number; seen: Seen[] }>) => {
    waiting.get(event.data.n)?.(event.data.seen);
    waiting.delete(event.data.n);
  });
  worker.postMessage({ wasm }, [wasm]);
  return {
    decode: (image) =>
      new Promise((found) => {
        n += 1;
        waiting.set(n, found);
        worker.postMessage({ n, image }, [image.data.buffer]);
      }),
    close: () => worker.terminate(),
  };
}

/** The pixels of a picture or of a camera's frame, at most 1280 on the longest side. */
export function pixelsOf(source: CanvasImageSource, width: number, height: number): ImageData {
  const factor = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  const [w, h] = [Math.round(width * factor), Math.round(height * factor)];
  const canvas = new OffscreenCanvas(w, h);
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) throw new Error("no canvas");
  context.drawImage(source, 0, 0, w, h);
  return context.getImageData(0, 0, w, h);
}

/** The codes in a photo. */
export async function decodePhoto(decoder: Decoder, file: Blob): Promise<Seen[]> {
  const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" });
  try {
    return await decoder.decode(pixelsOf(bitmap, bitmap.width, bitmap.height));
  } finally {
    bitmap.close();
  }
}
