/** How the app comes to the home screen of this device. */
interface InstallPrompt extends Event {
  prompt: () => Promise<unknown>;
}
const OPENED = "lampledger-bench-opened";
const DECLINED = "lampledger-install-declined";
/** Whoever has opened the bench this often will come back. */
const USED = 5;

let offer = $state.raw<InstallPrompt | null>(null);

/** Listens for the browser's offer, which comes once and early; returns how to stop. */
export function watchInstall(): () => void {
  const offered = (event: Event) => {
    event.preventDefault(); // else the browser shows a bar of its own over the work
    offer = event as InstallPrompt;
  };
  const installed = () => (offer = null);
  addEventListener("beforeinstallprompt", offered);
  addEventListener("appinstalled", installed);
  return () => {
    removeEventListener("beforeinstallprompt", offered);
    removeEventListener("appinstalled", installed);
  };
}

/** On an iPhone or iPad in the browser: there it is done by hand, and only there does it matter so much. */
function inAppleBrowser(): boolean {
  return "standalone" in navigator && !navigator.standalone && navigator.maxTouchPoints > 1;
}

/** `button`: the browser does it when asked. `by_hand`: by the share menu. `none`: it is installed or cannot be. */
export function installWay(): "button" | "by_hand" | "none" {
  if (matchMedia("(display-mode: standalone)").matches) return "none";
  if (offer) return "button";
  return inAppleBrowser() ? "by_hand" : "none";
}

/** Shows the browser's own question. It may be shown once for each offer. */
export async function installNow(): Promise<void> {
  const asked = offer;
  offer = null;
  await asked?.prompt();
}

/** Counts an opening of the bench; whether it is time to speak of installing. */
export function timeToOffer(): boolean {
  const opened = Number(localStorage.getItem(OPENED) ?? 0) + 1;
  localStorage.setItem(OPENED, String(opened));
  return opened >= USED && localStorage.getItem(DECLINED) === null;
}

export function declineInstall(): void {
  localStorage.setItem(DECLINED, "yes");
}
