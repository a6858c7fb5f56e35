import { readBarcodes, type ReaderOptions } from "zxing-wasm/reader";
import { halfAndStretched } from "./stretch";

export interface Point {
  x: number;
  y: number;
}
/** One code in a picture: what it says, and its four corners in the picture's own pixels. */
export interface Seen {
  text: string;
  corners: Point[];
}

/** More tags than these in one picture are too small to choose from. */
const MOST = 8;

// Found best on tilted, dim and small labels: tries a picture of half the size as well.
const OPTIONS: ReaderOptions = {
  formats: ["QRCode", "DataMatrix"],
  tryHarder: true,
  tryRotate: true,
  tryInvert: false,
  downscaleFactor: 2,
  downscaleThreshold: 300,
  maxNumberOfSymbols: MOST,
};

/**
 * Every QR code and Data Matrix in a picture. The app's worker and the measured decode rate (tests/scan) both call this.
 * Where nothing is found, the picture is looked at again as for a dark bench and a scratched label.
 */
export async function readCodes(image: ImageData): Promise<Seen[]> {
  const found = await seenIn(image, OPTIONS, 1);
  return found.length ? found : seenIn(halfAndStretched(image), { ...OPTIONS, tryDenoise: true }, 2);
}

async function seenIn(image: ImageData, options: ReaderOptions, times: number): Promise<Seen[]> {
  const found = await readBarcodes(image, options);
  return found
    .filter((one) => one.isValid)
    .map(({ text, position: p }) => ({
      text,
      corners: [p.topLeft, p.topRight, p.bottomRight, p.bottomLeft].map(({ x, y }) => ({
        x: x * times,
        y: y * times,
      })),
    }));
}
