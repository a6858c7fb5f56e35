import { get } from "$lib/api/call";
import { session } from "$lib/session/session.svelte";
import { merged, withMoment, type Offer, type OfferSent } from "./offers";

/** Time between two looks (ms); it doubles while no answer comes. */
const LOOK_EVERY = 2_000;
const LOOK_SELDOM = 30_000;

/** Looks what is offered on a bench, while the app is seen and online. Returns how to stop. */
export function watchOffers(bench: string, tell: (offers: Offer[]) => void): () => void {
  let known: Offer[] = [];
  let wait = LOOK_EVERY;
  let next: ReturnType<typeof setTimeout> | undefined;
  let isOver = false;

  async function look() {
    clearTimeout(next);
    if (maySee()) await ask();
    if (!isOver) next = setTimeout(() => void look(), wait);
  }
  async function ask() {
    const since = known[0]?.taken_at;
    try {
      const came = await get<OfferSent[]>(`benches/${bench}/offered-readings/`, { since });
      wait = LOOK_EVERY;
      if (isOver || !came.length) return;
      const now = Date.now();
      known = merged(
        known,
        came.map((sent) => withMoment(sent, now)),
      );
      tell(known);
    } catch {
      wait = Math.min(2 * wait, LOOK_SELDOM);
    }
  }
  /** After a sleep the clock may have been set meanwhile: everything is asked for anew. */
  const seen = () => {
    if (document.visibilityState !== "visible") return;
    known = [];
    void look();
  };
  document.addEventListener("visibilitychange", seen);
  void look();
  return () => {
    isOver = true;
    clearTimeout(next);
    document.removeEventListener("visibilitychange", seen);
  };
}

function maySee(): boolean {
  return document.visibilityState === "visible" && navigator.onLine && !session.expired && !session.revoked;
}
