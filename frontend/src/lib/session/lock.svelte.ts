import { drainSoon } from "$lib/queue/keep-draining";
import { queueState } from "$lib/queue/state.svelte";
import { confirmSession, endSession, isOver, markOver, session } from "./session.svelte";

/** Somebody who can open this phone by PIN. */
export interface PersonHere {
  id: string;
  name: string;
}

/** Kept by the browser, so that a phone that was locked is so from the first moment after a restart, in every tab. */
const CLOSED = "lampledger-locked";
const MINUTES = "lampledger-lock-after-minutes";
const PEOPLE = "lampledger-people-here";
export const LOCK_AFTER_MINUTES = [0, 5, 15, 60] as const;
const RETRY_MS = 30_000;

function kept<T>(key: string, otherwise: T): T {
  return JSON.parse(localStorage.getItem(key) ?? JSON.stringify(otherwise)) as T;
}

/** The lock hides the screen and loses nothing: what is open and half typed lies under it as it was. */
export const lock = $state({
  closed: localStorage.getItem(CLOSED) !== null,
  /** After how long untouched it closes by itself; 0: never. A choice of this phone, not of a person. */
  minutes: kept(MINUTES, 0),
  /** Who could open it by PIN when the server said so last. */
  people: kept<PersonHere[]>(PEOPLE, []),
});

/** What had the keyboard and how far the page was scrolled; a hidden page forgets both. */
let left: { focus: Element | null; y: number } | null = null;

export function closeLock(): void {
  if (lock.closed) return;
  left = { focus: document.activeElement, y: scrollY };
  localStorage.setItem(CLOSED, "yes");
  lock.closed = true;
  markOver();
  void leave();
}

/** What waits goes out first, while its maker is still known to the server; then the session ends there. */
async function leave(): Promise<void> {
  await drainSoon();
  while (queueState.draining) await new Promise((done) => setTimeout(done, 200));
  if (isOver()) await endSession();
}

export function openLock(): void {
  localStorage.removeItem(CLOSED);
  lock.closed = false;
  const back = left;
  left = null;
  requestAnimationFrame(() => {
    scrollTo(0, back?.y ?? 0);
    if (back?.focus instanceof HTMLElement) back.focus.focus({ preventScroll: true });
  });
}

/** Without network nobody can check a PIN. Whoever was here last goes on; what they record waits until they come in. */
export function goOnWithoutNetwork(): void {
  session.expired = true;
  openLock();
}

export function lockAfter(minutes: number): void {
  localStorage.setItem(MINUTES, JSON.stringify(minutes));
  lock.minutes = minutes;
  void watchStillness();
}

export function keepPeople(people: PersonHere[]): void {
  localStorage.setItem(PEOPLE, JSON.stringify(people));
  lock.people = people;
}

async function watchStillness(): Promise<void> {
  if (lock.minutes) (await import("./stillness")).watchStillness();
}

/** Another tab locked, or somebody came in there: this one follows. */
function follow({ key }: StorageEvent): void {
  if (key === MINUTES) lock.minutes = kept(MINUTES, 0);
  if (key === PEOPLE) lock.people = kept<PersonHere[]>(PEOPLE, []);
  if (key === CLOSED) void followLock(localStorage.getItem(CLOSED) !== null);
}

async function followLock(closed: boolean): Promise<void> {
  if (!closed) await confirmSession();
  lock.closed = closed;
}

/** Follows the other tabs, and ends a session that was left without network as soon as there is one again. */
export function watchLock(): () => void {
  const settle = () => {
    if (isOver()) void leave();
  };
  const timer = setInterval(settle, RETRY_MS);
  addEventListener("online", settle);
  addEventListener("storage", follow);
  void watchStillness();
  return () => {
    clearInterval(timer);
    removeEventListener("online", settle);
    removeEventListener("storage", follow);
  };
}
