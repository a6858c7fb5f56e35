/** SHA-256 as lower-case hex. Over plain HTTP browsers hide `crypto.subtle`, so we bring our own for that case. */
export async function sha256(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  // Typed as always there; it is not over plain HTTP.
  const subtle = crypto.subtle as SubtleCrypto | undefined;
  return hex(subtle ? new Uint8Array(await subtle.digest("SHA-256", bytes)) : sha256Slow(bytes));
}

export function hex(bytes: Uint8Array): string {
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The first 32 bits of the fractional part of a root of each of the first primes (FIPS 180-4, 4.2.2 and 5.3.3). */
function roots(count: number, power: number): number[] {
  const primes: number[] = [];
  for (let n = 2; primes.length < count; n++) if (primes.every((prime) => n % prime)) primes.push(n);
  return primes.map((prime) => ((prime ** power % 1) * 2 ** 32) | 0);
}

/** FIPS 180-4, section 6.2. */
export function sha256Slow(message: Uint8Array): Uint8Array {
  const k = roots(64, 1 / 3);
  const state = roots(8, 1 / 2);
  const padded = new Uint8Array((((message.length + 8) >> 6) + 1) << 6);
  padded.set(message);
  padded[message.length] = 0x80;
  const view = new DataView(padded.buffer);
  view.setUint32(padded.length - 8, Math.floor(message.length / 2 ** 29));
  view.setUint32(padded.length - 4, (message.length << 3) >>> 0);
  for (let at = 0; at < padded.length; at += 64) digestBlock(state, k, view, at);
  const out = new DataView(new ArrayBuffer(32));
  state.forEach((word, i) => out.setInt32(i * 4, word));
  return new Uint8Array(out.buffer);
}

const turn = (x: number, by: number) => (x >>> by) | (x << (32 - by));

function schedule(view: DataView, at: number): Int32Array {
  const w = new Int32Array(64);
  for (let t = 0; t < 16; t++) w[t] = view.getInt32(at + t * 4);
  for (let t = 16; t < 64; t++) {
    const [a, b] = [w[t - 15] ?? 0, w[t - 2] ?? 0];
    const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[t] = (w[t - 16] ?? 0) + s0 + (w[t - 7] ?? 0) + s1;
  }
  return w;
}

function digestBlock(state: number[], k: number[], view: DataView, at: number): void {
  const w = schedule(view, at);
  let [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0] = state;
  for (let t = 0; t < 64; t++) {
    const s1 = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const t1 = (h + s1 + ((e & f) ^ (~e & g)) + (k[t] ?? 0) + (w[t] ?? 0)) | 0;
    const s0 = turn(a, 2) ^ turn(a, 13) ^ turn(a, 22);
    const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, i) => (state[i] = ((state[i] ?? 0) + word) | 0));
}
