import fc from "fast-check";
import { expect, test } from "vitest";
import { LONGEST_SIDE, shrunkSize } from "$lib/photos/shrink";
import { hex, sha256, sha256Slow } from "$lib/photos/sha256";

test("hashes the published example like FIPS 180-4 says", () => {
  // "abc": NIST, SHA-256 example of FIPS 180-2, appendix B.1.
  const abc = new TextEncoder().encode("abc");

  expect(hex(sha256Slow(abc))).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
});

test("our own hash gives what the browser's gives, whatever the length", async () => {
  for (const length of [0, 1, 55, 56, 63, 64, 65, 119, 120, 1000]) {
    const bytes = Uint8Array.from({ length }, (_, i) => (i * 31) % 256);

    expect(hex(sha256Slow(bytes))).toBe(await sha256(bytes));
  }
});

test("a picture keeps its shape, is never enlarged, and fits the longest side", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9000 }), fc.integer({ min: 1, max: 9000 }), (width, height) => {
      const small = shrunkSize(width, height);

      expect(Math.max(small.width, small.height)).toBeLessThanOrEqual(Math.max(LONGEST_SIDE, 1));
      expect(small.width).toBeLessThanOrEqual(width);
      expect(Math.abs(small.width - width * (small.height / height))).toBeLessThanOrEqual(width / height + 1);
    }),
  );
});
