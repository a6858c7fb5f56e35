import { go } from "$lib/router/router.svelte";

/** Where each person was on this phone, so that whoever takes it comes back to their own open step. */
const PLACE = "lampledger-place-";

export function changeHands(from: string, to: string): void {
  localStorage.setItem(PLACE + from, location.pathname + location.search);
  go(localStorage.getItem(PLACE + to) ?? "/app/", { replace: true });
}
