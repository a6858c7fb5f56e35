import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Offer, OfferSent } from "$lib/instruments/offers";
import { watchOffers } from "$lib/instruments/watch";

const OFFER: OfferSent = {
  id: "o1",
  meter: "m1",
  meter_name: "Hand meter",
  quantity: "voltage_dc",
  typed: "4.987 V",
  said: "4.987",
  taken_at: "2026-03-02T09:00:00Z",
  age_seconds: 1,
};
let asked: URL[] = [];
let answers: (OfferSent[] | "down")[] = [];
let hidden = false;
let stop: () => void = () => undefined;

beforeEach(() => {
  vi.useFakeTimers();
  [asked, answers, hidden] = [[], [], false];
  vi.spyOn(document, "visibilityState", "get").mockImplementation(() => (hidden ? "hidden" : "visible"));
  vi.stubGlobal("fetch", (url: string) => {
    asked.push(new URL(url, "http://shop.example"));
    const next = answers.shift() ?? [];
    if (next === "down") return Promise.reject(new TypeError("down"));
    return Promise.resolve(new Response(JSON.stringify(next), { status: 200 }));
  });
});
afterEach(() => {
  stop();
  vi.useRealTimers();
  vi.unstubAllGlobals();
  vi.restoreAllMocks();
});

function watch(): Offer[][] {
  const told: Offer[][] = [];
  stop = watchOffers("b1", (offers) => told.push(offers));
  return told;
}
const pass = (ms: number) => vi.advanceTimersByTimeAsync(ms);

test("what is offered is told, and then only what came since is asked for", async () => {
  answers = [[OFFER]];
  const told = watch();
  await pass(2_500);

  expect(told.map((offers) => offers.map((one) => one.id))).toEqual([["o1"]]);
  expect(asked[0]?.pathname).toBe("/api/v1/benches/b1/offered-readings/");
  expect(asked.map((url) => url.searchParams.get("since"))).toEqual([null, OFFER.taken_at]);
});

test("a screen that is not seen asks nothing; seen again it asks for everything", async () => {
  answers = [[OFFER]];
  watch();
  await pass(100);
  hidden = true;
  await pass(60_000);
  expect(asked).toHaveLength(1);

  hidden = false;
  document.dispatchEvent(new Event("visibilitychange"));
  await pass(100);

  expect(asked).toHaveLength(2);
  expect(asked[1]?.searchParams.get("since")).toBeNull();
});

test("without an answer it asks less and less, and at its pace again after one", async () => {
  answers = ["down", "down", "down", []];
  watch();
  await pass(4_000 + 8_000 + 16_000 + 100);
  expect(asked).toHaveLength(4);

  await pass(4_100);

  expect(asked).toHaveLength(6);
});

test("once stopped it asks nothing more", async () => {
  watch();
  await pass(100);
  stop();
  await pass(60_000);

  expect(asked).toHaveLength(1);
});
