import { showCounts, type QueueCounts } from "./refresh";

/** What the screen says about the queue. `refreshQueueState` keeps it. */
export const queueState = $state({
  waiting: 0,
  refused: 0,
  bytes: 0,
  photos: 0,
  others: [],
  oldest: null,
  draining: false,
  /** Why sending failed for a reason that waiting does not mend; null when it went well. */
  trouble: null as string | null,
} as QueueCounts & { draining: boolean; trouble: string | null });

showCounts((counts) => Object.assign(queueState, counts));
