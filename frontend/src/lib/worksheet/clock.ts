/** `4:05`, or `1:04:05`. */
export function clock(seconds: number): string {
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  const two = (n: number) => String(n).padStart(2, "0");
  return h ? `${String(h)}:${two(m)}:${two(s)}` : `${String(m)}:${two(s)}`;
}

export function momentOf(milliseconds: number): string {
  return new Date(milliseconds).toISOString();
}
