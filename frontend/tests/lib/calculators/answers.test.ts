import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { answer, calculator } from "../../stand-ins/calculators";
import { storeOfVersion } from "../../stand-ins/store";

// Each test has a phone of its own: the store is opened once per load of its module.
async function phone() {
  vi.resetModules();
  const answers = await import("$lib/calculators/answers");
  const { benchDb } = await import("$lib/db/open");
  return { ...answers, benchDb };
}
const server = vi.fn<typeof fetch>();
const json = (body: unknown, etag = '""') =>
  Promise.resolve(new Response(JSON.stringify(body), { status: 200, headers: { ETag: etag } }));

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  document.cookie = "csrftoken=t";
  server.mockReset();
  vi.stubGlobal("fetch", server);
});

test("an answer asked once is there again without network, with the time it is from", async () => {
  const { askCalculator } = await phone();
  server.mockImplementationOnce(() => json(answer()));
  const online = await askCalculator("fuses.test", { a: 1, b: 2 });
  server.mockRejectedValue(new TypeError("no network"));

  const offline = await askCalculator("fuses.test", { b: 2, a: 1 });

  expect(online.keptAt).toBeNull();
  expect(offline.answer).toEqual(answer());
  expect(Date.parse(offline.keptAt ?? "")).toBeGreaterThan(Date.now() - 60_000);
});

test("what was never asked is said to be so, also when other inputs were", async () => {
  const { askCalculator, NeverAsked } = await phone();
  server.mockImplementationOnce(() => json(answer()));
  await askCalculator("fuses.test", { a: 1 });
  server.mockRejectedValue(new TypeError("no network"));

  await expect(askCalculator("fuses.test", { a: 2 })).rejects.toBeInstanceOf(NeverAsked);
  await expect(askCalculator("fuses.other", { a: 1 })).rejects.toBeInstanceOf(NeverAsked);
});

test("a refusal of the server is no reason to show an old answer", async () => {
  const { askCalculator } = await phone();
  server.mockImplementationOnce(() => json(answer()));
  await askCalculator("fuses.test", { a: 1 });
  server.mockImplementationOnce(() => Promise.resolve(new Response("{}", { status: 400 })));

  await expect(askCalculator("fuses.test", { a: 1 })).rejects.toMatchObject({ status: 400 });
});

test("only the newest answers are kept", async () => {
  const { askCalculator, askedBefore, benchDb, MOST_KEPT } = await phone();
  const db = await benchDb();
  for (let i = 0; i < MOST_KEPT; i++) {
    const asked_at = new Date(i).toISOString();
    await db.put("answers", {
      key: `old ${String(i)}`,
      name: "old",
      given: { i },
      answer: answer(),
      asked_at,
    });
  }
  server.mockImplementation(() => json(answer()));

  await askCalculator("fuses.test", { a: 1 });

  expect(await db.count("answers")).toBe(MOST_KEPT);
  expect(await db.get("answers", "old 0")).toBeUndefined();
  expect(await db.get("answers", "old 1")).toBeDefined();
  expect((await askedBefore("fuses.test")).map((kept) => kept.given)).toEqual([{ a: 1 }]);
});

test("what was asked before is listed newest first, each input once", async () => {
  const { askCalculator, askedBefore } = await phone();
  server.mockImplementation(() => json(answer()));
  vi.useFakeTimers({ toFake: ["Date"] });
  for (const [second, a] of [1, 2, 1].entries()) {
    vi.setSystemTime(1_000_000 + second * 1000);
    await askCalculator("fuses.test", { a });
  }
  vi.useRealTimers();

  expect((await askedBefore("fuses.test")).map((kept) => kept.given)).toEqual([{ a: 1 }, { a: 2 }]);
});

test("the list of calculators is there again without network", async () => {
  const { fetchCalculators, keptCalculators } = await phone();
  expect(await keptCalculators()).toBeNull();
  server.mockImplementationOnce(() => json({ results: [calculator()] }, '"a"'));

  await fetchCalculators();

  expect(await keptCalculators()).toEqual({ rows: [calculator()], etag: '"a"' });
});

test("a list that did not change is the one that was there; a new one takes its place", async () => {
  const { fetchCalculators, keptCalculators } = await phone();
  server.mockImplementationOnce(() => json({ results: [calculator()] }, '"a"'));
  const known = await fetchCalculators();
  server.mockImplementationOnce(() => json({ results: [calculator()] }, '"a"'));

  expect(await fetchCalculators(known)).toBe(known);

  server.mockImplementationOnce(() => json({ results: [] }, '"b"'));
  expect((await fetchCalculators(known)).rows).toEqual([]);
  expect(await keptCalculators()).toEqual({ rows: [], etag: '"b"' });
});

test("a phone with the store of before keeps all it had and gets room for answers", async () => {
  const before = await storeOfVersion(1);
  await before.put("queue", { id: "e1", record: "r" });
  before.close();

  const { benchDb } = await phone();
  const db = await benchDb();

  expect(await db.getAll("queue")).toMatchObject([{ id: "e1" }]);
  expect([...db.transaction("answers").store.indexNames]).toEqual(["asked_at", "name"]);
});
