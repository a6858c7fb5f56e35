import { afterEach, beforeEach, expect, test, vi } from "vitest";
import {
  declineInstall,
  installNow,
  installWay,
  timeToOffer,
  watchInstall,
} from "$lib/session/install.svelte";

let stop: () => void;
const asDisplayed = (mode: string) =>
  vi.stubGlobal("matchMedia", (query: string) => ({ matches: query.includes(mode) }));
function offer(prompt = vi.fn(() => Promise.resolve())) {
  const event = Object.assign(new Event("beforeinstallprompt", { cancelable: true }), { prompt });
  dispatchEvent(event);
  return event;
}
function appleBrowser(standalone: boolean) {
  Object.defineProperty(navigator, "standalone", { value: standalone, configurable: true });
  Object.defineProperty(navigator, "maxTouchPoints", { value: 5, configurable: true });
}

beforeEach(() => {
  asDisplayed("browser");
  stop = watchInstall();
});
afterEach(() => {
  stop();
  dispatchEvent(new Event("appinstalled"));
  localStorage.clear();
  Reflect.deleteProperty(navigator, "standalone");
});

test("the browser's offer waits for a tap, and is used once", async () => {
  const event = offer();
  const before = installWay();

  await installNow();

  expect([before, event.defaultPrevented]).toEqual(["button", true]);
  expect(event.prompt).toHaveBeenCalledOnce();
  expect(installWay()).toBe("none");
});

test.each([
  ["an iPhone's browser", false, "by_hand"],
  ["an iPhone's home screen", true, "none"],
])("from %s the way is told as it is", (_where, standalone, way) => {
  appleBrowser(standalone);

  expect(installWay()).toBe(way);
});

test("an installed app speaks of installing no more", () => {
  offer();
  asDisplayed("standalone");

  expect(installWay()).toBe("none");
});

test("the bench speaks of installing from the fifth time on", () => {
  const told = [1, 2, 3, 4, 5, 6].map(() => timeToOffer());

  expect(told).toEqual([false, false, false, false, true, true]);
});

test("after a no the bench does not speak of it again", () => {
  [1, 2, 3, 4].forEach(() => timeToOffer());

  declineInstall();

  expect(timeToOffer()).toBe(false);
});
