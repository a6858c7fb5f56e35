import { openDB } from "idb";
import { expect, test } from "vitest";
import { benchDb } from "$lib/db/open";
import { keptWorksheet } from "$lib/worksheet/store";

test("what lay on the phone before worksheets and packs were parted is still there, entries and all", async () => {
  const old = await openDB("lampledger", 2, {
    upgrade(db) {
      db.createObjectStore("meta");
      db.createObjectStore("drafts", { keyPath: "key" });
      const queue = db.createObjectStore("queue", { keyPath: "n", autoIncrement: true });
      queue.createIndex("record", "record");
      db.createObjectStore("repairs", { keyPath: "id" });
      db.createObjectStore("entries", { keyPath: "id" }).createIndex("record", "record");
      db.createObjectStore("packs", { keyPath: "worksheet" }).createIndex("repair", "row.repair");
    },
  });
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
