import { openDB } from "idb";
import { expect, test } from "vitest";
import { benchDb } from "$lib/db/open";
import { keptWorksheet } from "$lib/worksheet/store";

test("what lay on the phone before worksheets and packs were parted is still there, entries and all", async () => {
  const old = await openDB("lampledger", 2, {
    upgrade(db) {
      for (const store of ["meta", "queue"]) db.createObjectStore(store);
      db.createObjectStore("entries", { keyPath: "id" }).createIndex("record", "record");
      db.createObjectStore("packs", { keyPath: "worksheet" }).createIndex("repair", "row.repair");
    },
  });
  const row = { id: "w", repair: "r", stage: "open" };
  await old.put("packs", { worksheet: "w", sha256: "abc", row, pack: { steps: [{ id: "one" }] } });
  await old.put("entries", { id: "e", record: "w" });
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
});
