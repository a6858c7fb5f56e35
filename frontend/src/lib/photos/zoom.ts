// How a picture lies in the viewer: moved by x and y px from the middle, `scale` times as large as it fits.
export interface Place {
  scale: number;
  x: number;
  y: number;
}
export interface Size {
  width: number;
  height: number;
}
/** A point on the glass, in px from the middle of the viewer. */
export interface Point {
  x: number;
  y: number;
}
export const FITS: Place = { scale: 1, x: 0, y: 0 };
const LARGEST = 8;
const TAPPED = 2.5;

/** The place with the picture's edges no further in than the viewer's: it never leaves the glass. */
export function within(place: Place, picture: Size, viewer: Size): Place {
  const scale = Math.min(LARGEST, Math.max(1, place.scale));
  const room = (size: number, space: number) => Math.max(0, (size * scale - space) / 2);
  const kept = (value: number, most: number) => Math.min(most, Math.max(-most, value)) + 0;
  return {
    scale,
    x: kept(place.x, room(picture.width, viewer.width)),
    y: kept(place.y, room(picture.height, viewer.height)),
  };
}

/** Larger or smaller about a point, which stays under the finger. */
export function zoomedAt(place: Place, point: Point, by: number): Place {
  const scale = Math.min(LARGEST, Math.max(1, place.scale * by));
  const ratio = scale / place.scale;
  return { scale, x: point.x - (point.x - place.x) * ratio, y: point.y - (point.y - place.y) * ratio };
}

/** Two fingers that were at `before` are at `after`: what lay between them still does. */
export function pinched(place: Place, before: [Point, Point], after: [Point, Point]): Place {
  const middle = ([a, b]: [Point, Point]) => ({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
  const apart = ([a, b]: [Point, Point]) => Math.hypot(a.x - b.x, a.y - b.y) || 1;
  const [from, to] = [middle(before), middle(after)];
  const zoomed = zoomedAt(place, from, apart(after) / apart(before));
  return { ...zoomed, x: zoomed.x + to.x - from.x, y: zoomed.y + to.y - from.y };
}

/** A double tap: larger about the point, or back to the whole picture. */
export function doubleTapped(place: Place, point: Point): Place {
  return place.scale > 1 ? FITS : zoomedAt(place, point, TAPPED);
}
