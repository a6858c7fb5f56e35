import { sha256 } from "./sha256";

export const LONGEST_SIDE = 1600;
const QUALITY = 0.8;

export interface ShrunkPhoto {
  sha256: string;
  blob: Blob;
  width: number;
  height: number;
}

/** The size a picture is kept at: longest side 1600, never enlarged. */
export function shrunkSize(width: number, height: number): { width: number; height: number } {
  const factor = Math.min(1, LONGEST_SIDE / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * factor)), height: Math.max(1, Math.round(height * factor)) };
}

/** Not a picture, or one this browser cannot read. */
export class NotAPicture extends Error {}

/** Shrinks a picture to JPEG. Drawing it anew turns it upright and leaves EXIF, and so the place, behind. */
export async function shrinkPhoto(file: Blob): Promise<ShrunkPhoto> {
  const bitmap = await createImageBitmap(file, { imageOrientation: "from-image" }).catch(() => {
    throw new NotAPicture();
  });
  try {
    const { width, height } = shrunkSize(bitmap.width, bitmap.height);
    const canvas = new OffscreenCanvas(width, height);
    canvas.getContext("2d")?.drawImage(bitmap, 0, 0, width, height);
    const blob = await canvas.convertToBlob({ type: "image/jpeg", quality: QUALITY });
    const bytes = new Uint8Array(await blob.arrayBuffer());
    return { sha256: await sha256(bytes), blob, width, height };
  } finally {
    bitmap.close();
  }
}

/** The value of a photo entry. */
export function photoValue(photo: ShrunkPhoto, caption: string): Record<string, unknown> {
  const { sha256: hash, width, height, blob } = photo;
  return { sha256: hash, width, height, size: blob.size, caption };
}
