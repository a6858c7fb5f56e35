import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { colleagues, fetchBench, keptBench, markSeen } from "$lib/bench/my-bench";
import type { MyBench } from "$lib/bench/shapes";
import { writeMeta } from "$lib/db/open";

const note = (mention: string) => ({
  kind: "note" as const,
  repair: { id: "r", number: "7", unit: "Testmake Glimmer", code: "U" },
  at: null,
  by_name: "Anna",
  text: "@Ben",
  mention,
});
const bench = (...mentions: string[]): MyBench => ({
  read_at: "2026-03-02T09:00:00Z",
  in_hand: [],
  waiting: mentions.map(note),
  off_bench: [],
  free: [],
  people: [{ id: "ben", name: "Ben", role: "tech" }],
});
const notes = (found: MyBench | null) => found?.waiting.map((row) => row.mention);

/** What the server was told, in order. */
let told: string[] = [];
function answering(waiting: MyBench): void {
  vi.stubGlobal("fetch", (url: string, given: RequestInit) => {
    if (given.method === "POST") told.push(given.body as string);
    return Promise.resolve(Response.json(given.method === "POST" ? { seen: 1 } : waiting));
  });
}
const away = () => vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no network")));

beforeEach(async () => {
  told = [];
  document.cookie = "csrftoken=t";
  await writeMeta("mentions_seen/ben", []);
});
afterEach(() => vi.unstubAllGlobals());

test("the bench stays on the phone for its owner, and for nobody else on the same phone", async () => {
  answering(bench("m1"));
  await fetchBench("ben");
  away();

  expect(notes(await keptBench("ben"))).toEqual(["m1"]);
  expect(await keptBench("anna")).toBeNull();
  expect(await colleagues("ben")).toEqual([{ id: "ben", name: "Ben", role: "tech" }]);
});

test("a note that was read is gone from the phone at once, though the next look cannot reach the server", async () => {
  answering(bench("m1", "m2"));
  await fetchBench("ben");

  await markSeen("ben", "m2");

  away();
  expect(told).toEqual(['{"ids":["m2"]}']);
  expect(notes(await keptBench("ben"))).toEqual(["m1"]);
});

test("a note read without network waits no longer here, and the server hears of it once it is there", async () => {
  answering(bench("m1", "m2"));
  await fetchBench("ben");
  away();
  await markSeen("ben", "m1");
  expect(notes(await keptBench("ben"))).toEqual(["m2"]);

  answering(bench("m2"));
  await fetchBench("ben");
  await fetchBench("ben");

  expect(told).toEqual(['{"ids":["m1"]}']);
});
