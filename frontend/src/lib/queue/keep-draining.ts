import { ApiError, NoNetwork, sentenceFor } from "$lib/api/call";
import { session } from "$lib/session/session.svelte";
import type { KeptPhoto } from "$lib/db/schema";
import type { Entry } from "$lib/api/work-shapes";
import { drain, type Drained, type Line } from "./drain";
import { refreshQueueState } from "./refresh";
import { sendOperations, uploadPhoto, type Known, type SyncAnswer } from "./send";
import { queueState } from "./state.svelte";

const FIRST_WAIT_MS = 1_000;
const LONGEST_WAIT_MS = 120_000;
/** Another tab may be closed, or lose its network, in the middle of sending: soon this one looks whether it can go on. */
const ELSEWHERE_MS = 3_000;
/** How often an app in front asks what others recorded. */
const HEAR_MS = 15_000;
let wait = FIRST_WAIT_MS;
let timer: ReturnType<typeof setTimeout> | undefined;
/** Something was recorded while a drain was on its last batch. */
let again = false;

function passes(error: unknown): boolean {
  if (error instanceof NoNetwork) return true;
  return (
    error instanceof ApiError && ([401, 403, 408, 425, 429].includes(error.status) || error.status >= 500)
  );
}

/** A link that drops every so many requests still carries: only one that carries nothing is left in peace for longer. */
function noteProgress(answer: SyncAnswer): SyncAnswer {
  if (answer.results.some((result) => result.outcome !== "refused")) wait = FIRST_WAIT_MS;
  return answer;
}

const line: Line = {
  async send(entries: Entry[], known: Known) {
    try {
      return noteProgress(await sendOperations(entries, known));
    } catch (error) {
      if (passes(error)) return null;
      throw error;
    }
  },
  async upload(photo: KeptPhoto) {
    try {
      await uploadPhoto(photo.sha256, photo.blob, photo.repair);
      wait = FIRST_WAIT_MS;
      return "done";
    } catch (error) {
      if (passes(error)) return "later";
      if (error instanceof ApiError) return error;
      throw error;
    }
  },
};

/** How long until the next try; null: there is nothing left to try. */
function pauseAfter(outcome: Drained): number | null {
  const jitter = 0.5 + Math.random() / 2;
  if (outcome === "elsewhere") return ELSEWHERE_MS * jitter;
  const pause = wait * jitter;
  wait = outcome === "done" ? FIRST_WAIT_MS : Math.min(LONGEST_WAIT_MS, wait * 2);
  if (outcome === "later") return pause;
  return again ? 0 : null;
}

/** Tries to send what waits now; on failure again later, with a jittered wait that doubles. */
export async function drainSoon(): Promise<void> {
  clearTimeout(timer);
  if (session.plain || !session.me || session.expired || session.revoked) return;
  if (queueState.draining) {
    again = true;
    return;
  }
  queueState.draining = true;
  queueState.trouble = null;
  const outcome = await drain(line, session.me.id).catch((error: unknown) => {
    queueState.trouble = sentenceFor(error);
    return "later" as const;
  });
  queueState.draining = false;
  const pause = pauseAfter(outcome);
  again = false;
  if (pause !== null) timer = setTimeout(() => void drainSoon(), pause);
}

/** Somebody signed in or out: the counts are theirs now, and so is what may be sent. */
export async function takeUpQueue(me: string | null): Promise<void> {
  await refreshQueueState(me);
  if (me) await drainSoon();
}

/** Sends what waits whenever there is a chance; returns how to stop. The events are hints only. */
export function keepDraining(): () => void {
  const hint = () => {
    wait = FIRST_WAIT_MS;
    void drainSoon();
  };
  const seen = () => {
    if (document.visibilityState === "visible") hint();
  };
  const listening = setInterval(() => {
    // While sending fails, the wait between tries holds.
    if (document.visibilityState === "visible" && wait === FIRST_WAIT_MS) void drainSoon();
  }, HEAR_MS);
  addEventListener("online", hint);
  document.addEventListener("visibilitychange", seen);
  return () => {
    clearTimeout(timer);
    clearInterval(listening);
    removeEventListener("online", hint);
    document.removeEventListener("visibilitychange", seen);
  };
}
