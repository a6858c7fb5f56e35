import fc from "fast-check";
import { expect, test } from "vitest";
import { doubleTapped, FITS, pinched, within, zoomedAt, type Place, type Point } from "$lib/photos/zoom";

const viewer = { width: 400, height: 800 };
const picture = { width: 400, height: 300 };
/** What of the picture, measured from its middle, lies under a point of the glass. */
const under = ({ scale, x, y }: Place, point: Point) => [(point.x - x) / scale, (point.y - y) / scale];

test("a double tap enlarges what lies under the finger, another shows the whole picture", () => {
  const point = { x: 100, y: -50 };

  const large = doubleTapped(FITS, point);

  expect(under(large, point)).toEqual([100, -50]);
  expect(doubleTapped(large, point)).toEqual(FITS);
});

test("fingers going apart enlarge, and what lay between them stays there", () => {
  const before: [Point, Point] = [
    { x: 0, y: 0 },
    { x: 100, y: 0 },
  ];
  const after: [Point, Point] = [
    { x: -20, y: 30 },
    { x: 180, y: 30 },
  ];

  const place = pinched(FITS, before, after);

  expect(place.scale).toBe(2);
  expect(under(place, { x: 80, y: 30 })).toEqual([50, 0]);
});

test("a picture moved too far comes back to its edge, and one that fits stays in the middle", () => {
  expect(within({ scale: 2, x: 900, y: 90 }, picture, viewer)).toEqual({ scale: 2, x: 200, y: 0 });
  expect(within({ scale: 0.3, x: 10, y: 10 }, picture, viewer)).toEqual(FITS);
});

test("whatever is done, no more is empty beside the picture than when it fits", () => {
  const numbers = fc.double({ min: -2000, max: 2000, noNaN: true });
  fc.assert(
    fc.property(numbers, numbers, fc.double({ min: 0.01, max: 50, noNaN: true }), (x, y, by) => {
      const place = within(zoomedAt(FITS, { x, y }, by), picture, viewer);

      const right = place.x + (picture.width * place.scale) / 2;
      expect(place.scale).toBeGreaterThanOrEqual(1);
      expect(right).toBeGreaterThanOrEqual(viewer.width / 2 - 1e-6);
    }),
  );
});
