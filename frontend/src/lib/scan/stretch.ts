/** The share of pixels that may be darker than black and brighter than white: noise, and a lamp in the picture. */
const BEYOND = 0.005;

/** A grey picture of half the size in each direction, over the whole range of grey: four pixels make one, so noise halves. */
export function halfAndStretched(image: ImageData): ImageData {
  const [width, height] = [image.width >> 1, image.height >> 1];
  const grey = halved(image, width, height);
  const [black, white] = range(grey);
  const data = new Uint8ClampedArray(4 * grey.length).fill(255);
  const factor = 255 / Math.max(1, white - black);
  grey.forEach((level, i) => {
    data.fill((level - black) * factor, 4 * i, 4 * i + 3);
  });
  return { data, width, height, colorSpace: image.colorSpace };
}

function halved({ data, width: wide }: ImageData, width: number, height: number): Uint8Array {
  const grey = new Uint8Array(width * height);
  // Green alone is grey enough for print, and three times quicker than weighing colours.
  const green = (x: number, y: number) => data[4 * (y * wide + x) + 1] ?? 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [a, b] = [2 * x, 2 * y];
      const sum = green(a, b) + green(a + 1, b) + green(a, b + 1) + green(a + 1, b + 1);
      grey[y * width + x] = (sum + 2) >> 2;
    }
  }
  return grey;
}

function range(grey: Uint8Array): [number, number] {
  const counts = new Uint32Array(256);
  for (const level of grey) counts[level] = (counts[level] ?? 0) + 1;
  const most = grey.length * BEYOND;
  const edge = (levels: number[]) => {
    let passed = 0;
    return levels.find((level) => (passed += counts[level] ?? 0) > most) ?? 0;
  };
  const levels = [...counts.keys()];
  return [edge(levels), edge(levels.toReversed())];
}
