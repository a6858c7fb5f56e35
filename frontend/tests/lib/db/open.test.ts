import { IDBFactory } from "fake-indexeddb";
import { openDB } from "idb";
import { beforeEach, expect, test, vi } from "vitest";
import { storeOfVersion } from "../../stand-ins/store";

// Each test has a phone of its own: the store is opened once per load of its module.
beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  vi.resetModules();
});

test("what lay on the phone before worksheets and packs were parted is still there, entries and all", async () => {
  const old = await storeOfVersion(2);
  const row = { id: "w", repair: "r", stage: "open" };
  await old.put("packs", { worksheet: "w", sha256: "abc", row, pack: { steps: [{ id: "one" }] } });
  await old.put("entries", { id: "e", record: "w" });
  const customer = { name: "Ada Muster", phone: "0151 0000 123" };
  await old.put("repairs", {
    id: "r",
    code: "U0000011",
    repair: { id: "r", customer, customer_name: "Ada" },
  });
  await old.put("meta", [{ customer_name: "Ada" }], "my_repairs");
  await old.put("drafts", { key: "book-in", value: { customer }, at: 1 });
  old.close();

  const { benchDb } = await import("$lib/db/open");
  const { keptWorksheet } = await import("$lib/worksheet/store");
  const found = await keptWorksheet("w");

  expect(found).toMatchObject({
    sha256: "abc",
    row,
    pack: { steps: [{ id: "one" }] },
    entries: [{ id: "e" }],
  });
  expect(await (await benchDb()).get("packs", "w")).toEqual({
    worksheet: "w",
    pack: { steps: [{ id: "one" }] },
  });
  // Whose a repair is was kept once, and is no longer.
  const db = await benchDb();
  expect((await db.get("repairs", "r"))?.repair).toMatchObject({
    id: "r",
    customer: null,
    customer_name: "",
  });
  expect(await db.getAll("meta")).toEqual([]);
  expect(await db.getAll("drafts")).toEqual([]);
});

test("a store that cannot be brought up stays as it was, with what waits to be sent", async () => {
  vi.spyOn(console, "error").mockImplementation(() => undefined);
  const torn = await openDB("lampledger", 4, {
    upgrade(db) {
      db.createObjectStore("queue", { keyPath: "n", autoIncrement: true });
    },
  });
  await torn.put("queue", { id: "e", record: "w" });
  torn.close();
  const { benchDb } = await import("$lib/db/open");

  await expect(benchDb()).rejects.toThrow();
  await expect(benchDb()).rejects.toThrow();

  const still = await openDB("lampledger");
  expect(still.version).toBe(4);
  expect(await still.getAll("queue")).toMatchObject([{ id: "e" }]);
});
