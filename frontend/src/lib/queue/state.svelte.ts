import { showCounts, type QueueCounts } from "./refresh";

/** What the screen says about the queue. `refreshQueueState` keeps it. */
export const queueState = $state({
  waiting: 0,
  refused: 0,
  bytes: 0,
  photos: 0,
  others: [],
  oldest: null,
  /** Until then nobody knows whether something waits, and nothing is said of it. */
  isCounted: false,
  draining: false,
  /** Why sending failed for a reason that waiting does not mend; null when it went well. */
  trouble: null as string | null,
} as QueueCounts & { isCounted: boolean; draining: boolean; trouble: string | null });

showCounts((counts) => Object.assign(queueState, counts, { isCounted: true }));
