import { describe, expect, it } from "vitest";
import { halfAndStretched } from "$lib/scan/stretch";

/** A picture whose every pixel is grey as `level` says. */
function picture(width: number, height: number, level: (x: number, y: number) => number): ImageData {
  const data = new Uint8ClampedArray(4 * width * height).fill(255);
  for (let i = 0; i < width * height; i++) {
    data.fill(level(i % width, Math.floor(i / width)), 4 * i, 4 * i + 3);
  }
  return { data, width, height, colorSpace: "srgb" };
}
const levels = ({ data }: ImageData) => [...data].filter((_, i) => i % 4 === 0);

describe("the second look's picture", () => {
  it("is half as wide and high, and as dark as black and as bright as white", () => {
    const dim = picture(40, 20, (x) => (x < 20 ? 10 : 30));

    const seen = halfAndStretched(dim);

    expect([seen.width, seen.height]).toEqual([20, 10]);
    expect(new Set(levels(seen))).toEqual(new Set([0, 255]));
  });
  it("makes one of four pixels, so that noise evens out", () => {
    // By hand: (20 + 40 + 20 + 40) / 4 = 30 beside blocks of 10 and 50, in the middle of them.
    const noisy = picture(60, 60, (x, y) => (x < 20 ? 10 : x < 40 ? 50 : (x + y) % 2 ? 40 : 20));

    expect(new Set(levels(halfAndStretched(noisy)))).toEqual(new Set([0, 255, 128]));
  });
  it("leaves an empty picture as it is, without dividing by nothing", () => {
    expect(new Set(levels(halfAndStretched(picture(8, 8, () => 77))))).toEqual(new Set([0]));
  });
});
