// Fetched after the first screen: what keeps the phone ready for the bench while the app is open.
import { NoNetwork, ApiError } from "$lib/api/call";
import { forgetSentPhotos } from "$lib/db/make-room";
import { onChange } from "$lib/queue/changes";
import { refreshQueueState } from "$lib/queue/refresh";
import { session } from "$lib/session/session.svelte";
import { keepMyBench } from "$lib/worksheet/keep-bench";
import { watchForBackground } from "./background-sync";
import { afterFirstScreen } from "./first-screen";

/** Nothing changes so fast that every look at the phone would have to fetch it all. */
const REST_MS = 3 * 60 * 1000;
const COUNT_AFTER_MS = 200;
/** When it was done last, and for whom. */
let last = { at: 0, me: "" };
let busy: Promise<void> | null = null;

/** Fetches what my repairs need, unless that was just done; the first screen comes first. `atOnce`: now, and whenever it was.
 *  Without network it rests. */
export async function freshen({ atOnce = false } = {}): Promise<void> {
  if (!atOnce) await afterFirstScreen();
  const { me, plain, expired, revoked } = session;
  if (!me || me.role === "desk" || plain || expired || revoked) return;
  if (busy) return busy;
  if (!atOnce && last.me === me.id && Date.now() - last.at < REST_MS) return;
  busy = fetchAll(me.id).finally(() => (busy = null));
  return busy;
}

async function fetchAll(me: string): Promise<void> {
  try {
    await keepMyBench();
    last = { at: Date.now(), me };
    await forgetSentPhotos();
  } catch (error) {
    if (!(error instanceof NoNetwork || error instanceof ApiError)) throw error;
  }
}

/** Keeps the phone ready: now, when the app is seen again, when the network is back. Returns how to stop. */
export function keepReady(): () => void {
  const seen = () => {
    if (document.visibilityState === "visible") void freshen();
  };
  const back = () => void freshen({ atOnce: true });
  let counting: ReturnType<typeof setTimeout> | undefined;
  // Another tab or the service worker sent or recorded something: our counts follow.
  const stopCounting = onChange(() => {
    clearTimeout(counting);
    counting = setTimeout(() => void refreshQueueState(), COUNT_AFTER_MS);
  });
  // What changed while the first screen had the phone to itself.
  void refreshQueueState();
  document.addEventListener("visibilitychange", seen);
  addEventListener("online", back);
  const stopBackground = watchForBackground();
  void freshen();
  return () => {
    document.removeEventListener("visibilitychange", seen);
    removeEventListener("online", back);
    clearTimeout(counting);
    stopCounting();
    stopBackground();
  };
}
