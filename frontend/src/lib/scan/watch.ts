import type { Reading } from "./reading";

/** A code is opened once it was seen alone in so many looks in a row: a second tag may come into view late. */
const STEADY_LOOKS = 2;
/** So long out of the picture, a tag has been taken away. */
const GONE_MS = 1_500;

/** So long after it was opened a tag may still lie before the camera when one comes back. */
const JUST_MS = 15_000;
let opened = { code: "", at: -JUST_MS };

/** The tag that the camera opened a moment ago; null when that is longer ago. */
export function justOpened(now = performance.now()): string | null {
  return now - opened.at < JUST_MS ? opened.code : null;
}

export function noteOpened(code: string, now = performance.now()): void {
  opened = { code, at: now };
}

/** What to do after a look at the camera's picture. */
export type Outcome =
  | { do: "open"; code: string }
  | { do: "choose"; codes: string[] }
  | { do: "hold_back"; code: string }
  | { do: "tell"; reading: Reading }
  | null;

/**
 * Decides over many looks: one tag in view is opened, several are offered. A tag just opened is held back until it
 * has left the picture, so that whoever comes back is not thrown out again.
 */
export class Watch {
  #offered: string[] = [];
  #lastSeen = new Map<string, number>();
  #alone = { code: "", looks: 0 };
  #held: { code: string; seen: number | null } | null;

  constructor(justOpened: string | null = null) {
    this.#held = justOpened ? { code: justOpened, seen: null } : null;
  }

  /** `now` in milliseconds. */
  look(readings: Reading[], now: number): Outcome {
    const codes = readings.flatMap((one) => (one.kind === "own" ? [one.code.text] : []));
    const [code] = codes;
    // The tag held back is as good as not there: another one may take its place at once.
    if (code && codes.length === 1 && this.#isHeld(code, now)) return { do: "hold_back", code };
    codes.forEach((one) => this.#lastSeen.set(one, now));
    const inView = [...this.#lastSeen].filter(([, at]) => now - at < GONE_MS).map(([one]) => one);
    if (inView.length > 1 || this.#offered.length) return this.#offer(codes.length ? inView : []);
    if (code) return this.#one(code);
    this.#alone.looks = 0;
    const [other] = readings;
    return other ? { do: "tell", reading: other } : null;
  }

  /** Begins anew after a choice was turned down: what is in view now is offered again. */
  forget(): void {
    this.#offered = [];
    this.#lastSeen.clear();
    this.#alone = { code: "", looks: 0 };
  }

  /** What was once offered stays: it must not slip from under the finger. */
  #offer(codes: string[]): Outcome {
    this.#offered = [...new Set([...this.#offered, ...codes])];
    return { do: "choose", codes: this.#offered };
  }

  #one(code: string): Outcome {
    this.#alone = { code, looks: this.#alone.code === code ? this.#alone.looks + 1 : 1 };
    return this.#alone.looks >= STEADY_LOOKS ? { do: "open", code } : null;
  }

  #isHeld(code: string, now: number): boolean {
    const held = this.#held;
    if (held?.code !== code || (held.seen !== null && now - held.seen > GONE_MS)) {
      this.#held = null;
      return false;
    }
    held.seen = now;
    return true;
  }
}
