/** What the screen says about the queue. `refresh` in queue.ts keeps it. */
export const queueState = $state({
  /** Entries and photos of whoever is signed in that wait for the server. */
  waiting: 0,
  refused: 0,
  /** Entries of other people on this phone. */
  others: [] as { name: string; count: number }[],
  /** When the oldest waiting entry was made, ISO. */
  oldest: null as string | null,
  draining: false,
  /** Why sending failed for a reason that waiting does not mend; null when it went well. */
  trouble: null as string | null,
});
