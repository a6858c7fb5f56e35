import { beforeEach, expect, test, vi } from "vitest";
import { forgetSentPhotos, StorageFull } from "$lib/db/make-room";
import { benchDb } from "$lib/db/open";
import { withRoom } from "$lib/db/with-room";

const full = () => Promise.reject(new DOMException("no room", "QuotaExceededError"));
const NOW = Date.parse("2026-11-30T12:00:00Z");
const daysAgo = (days: number) => new Date(NOW - days * 86_400_000).toISOString();

async function photo(sha256: string, days: number, sent = true, size = 1000) {
  // Stored as a copy; fake-indexeddb keeps no blob, and its size is all that is asked.
  const blob = { size } as unknown as Blob;
  await (
    await benchDb()
  ).put("photos", { sha256, blob, repair: "r", maker: "m", sent, made_at: daysAgo(days) });
}
const left = async () => (await benchDb()).getAllKeys("photos");

beforeEach(async () => {
  const db = await benchDb();
  for (const store of db.objectStoreNames) await db.clear(store);
});

test("photos the shop has are forgotten after 14 days, but not those of a worksheet on the phone, nor unsent ones", async () => {
  await photo("old", 15);
  await photo("new", 13);
  await photo("unsent", 40, false);
  await photo("shown", 40);
  const db = await benchDb();
  await db.put("worksheets", { worksheet: "w" } as never);
  await db.put("entries", { id: "e", record: "w", kind: "photo", value: { sha256: "shown" } } as never);

  await forgetSentPhotos(NOW);

  expect(await left()).toEqual(["new", "shown", "unsent"]);
});

test("beyond the bound the oldest photos go first", async () => {
  for (const days of [3, 1, 2]) await photo(`day-${String(days)}`, days);

  await forgetSentPhotos(NOW, 2000);

  expect(await left()).toEqual(["day-1", "day-2"]);
});

test("where there is no room, what can be had again is forgotten, and then it is kept", async () => {
  await photo("sent", 0);
  await photo("unsent", 0, false);
  const write = vi.fn(() => Promise.resolve()).mockImplementationOnce(full);

  await withRoom(write);

  expect(write).toHaveBeenCalledTimes(2);
  expect(await left()).toEqual(["unsent"]);
});

test("no room all the same is said in a sentence, and what waits stays", async () => {
  await photo("unsent", 0, false);

  await expect(withRoom(full)).rejects.toThrow(StorageFull);

  expect(await left()).toEqual(["unsent"]);
});

test("another fault is passed on as it is", async () => {
  await expect(withRoom(() => Promise.reject(new TypeError("else")))).rejects.toThrow("else");
});
