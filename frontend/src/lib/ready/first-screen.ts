/** How long (ms) the first screen has the phone to itself, and how much longer it may keep it busy. */
const OWN_MS = 2000;
const LONGEST_MS = 2000;
/** How long (ms) a picture is waited for: a page that goes out of sight draws none. */
const UNSEEN_MS = 500;

const pause = (ms: number) => new Promise<void>((done) => setTimeout(done, ms));

function loaded(): Promise<void> {
  if (document.readyState === "complete") return Promise.resolve();
  return new Promise((done) => addEventListener("load", () => done(), { once: true }));
}

function idle(): Promise<void> {
  // Safari does not say when it is idle.
  if (!("requestIdleCallback" in globalThis)) return Promise.resolve();
  return new Promise((done) => requestIdleCallback(() => done(), { timeout: LONGEST_MS }));
}

/** Resolves once what was just put on the screen is seen; in a page that nobody sees, or soon sees no more, all the same. */
export function drawn(): Promise<void> {
  if (document.visibilityState !== "visible") return Promise.resolve();
  const seen = new Promise<void>((done) => requestAnimationFrame(() => setTimeout(done)));
  return Promise.race([seen, pause(UNSEEN_MS)]);
}

let over: Promise<void> | undefined;

/** Resolves once the first screen of this visit had its time: what nobody waits for begins then. */
export function afterFirstScreen(): Promise<void> {
  over ??= loaded()
    .then(() => pause(OWN_MS))
    .then(idle);
  return over;
}
