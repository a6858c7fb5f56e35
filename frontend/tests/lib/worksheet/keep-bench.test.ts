import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { benchDb } from "$lib/db/open";
import { keptCode } from "$lib/worksheet/codes";
import { keepMyBench, missingFor } from "$lib/worksheet/keep-bench";
import { keptEntries, loadModelSheet, loadRepair, noteOpened } from "$lib/worksheet/store";
import { NoNetwork } from "$lib/api/call";

const A = "a".repeat(64);
const customer = { id: "c", name: "Ada Muster", phone: "0151 0000 123", email: "ada@mail.example" };
const worksheet = { id: "w", repair: "r", stage: "open", pack_sha256: "p", last_seq: 0, title: "Check" };
const repair = {
  id: "r",
  unit: { code: "U0000011", pieces: [], model_sheet: "m" },
  customer,
  customer_name: customer.name,
  estimate: { answer_words: "Ada said yes" },
  status_link: { url: "https://shop.example/s/secret" },
  worksheets: [worksheet],
};
const ANSWERS: Record<string, unknown> = {
  "repairs/": { results: [{ id: "r", customer_name: customer.name }] },
  "repairs/r/": repair,
  "my-packs/": { worksheets: [{ id: "w", pack_sha256: "p", last_seq: 0, repair: "r" }] },
  "worksheets/w/": { ...worksheet, entries: [] },
  "worksheets/w/pack/": { steps: [] },
  "records/r/log/": { last_seq: 1, entries: [{ id: "e", record: "r", kind: "note", value: {} }] },
  "model-sheets/m/": { id: "m", pictures: [{ sha256: A }], known_faults: [{ fault: "belt" }] },
  "codes/": { codes: [{ code: "B0000011", kind: "bin", name: "A3 left" }] },
  "calculators/": { results: [] },
};
let away: (path: string) => boolean;

function answer(address: string): Promise<Response> {
  const path = address.replace("/api/v1/", "").replace(/\?.*/, "");
  if (away(path)) return Promise.reject(new TypeError("no network"));
  if (path.startsWith("photos/")) return Promise.resolve(new Response("jpeg"));
  const found = ANSWERS[path];
  return Promise.resolve(
    found ? Response.json(found) : Response.json({ code: "not_found" }, { status: 404 }),
  );
}

beforeEach(async () => {
  away = () => false;
  vi.stubGlobal("fetch", answer);
  const db = await benchDb();
  for (const store of db.objectStoreNames) await db.clear(store);
});
afterEach(() => vi.unstubAllGlobals());

describe("the bench on the phone", () => {
  test("is ready when repair, log, worksheet, model sheet and pictures are there, and works without network", async () => {
    expect(await missingFor("r")).toEqual(["repair"]);

    await keepMyBench();

    expect(await missingFor("r")).toEqual([]);
    away = () => true;
    expect((await loadRepair("r")).keptAt).not.toBeNull();
    expect(await loadModelSheet("m")).toMatchObject({ known_faults: [{ fault: "belt" }] });
    expect(await keptEntries("r")).toHaveLength(1);
    expect(await keptCode("B0000011")).toMatchObject({ kind: "bin", name: "A3 left" });
    expect(await keptCode("B0000022")).toBeNull();
  });

  test("says what is missing: a picture that did not come, a sheet that did not", async () => {
    away = (path) => path.startsWith("photos/");
    await keepMyBench();
    expect(await missingFor("r")).toEqual(["pictures"]);

    await (await benchDb()).clear("sheets");

    expect(await missingFor("r")).toEqual(["sheet"]);
  });

  test("a repair that is no longer mine to see stops nothing else", async () => {
    vi.stubGlobal("fetch", (address: string) =>
      address.endsWith("/repairs/?mine=1&open=1")
        ? Promise.resolve(Response.json({ results: [{ id: "gone" }, { id: "r" }] }))
        : answer(address),
    );

    await keepMyBench();

    expect(await missingFor("r")).toEqual([]);
  });

  test("without network it says so, and what is there stays", async () => {
    await keepMyBench();
    away = () => true;

    await expect(keepMyBench()).rejects.toThrow(NoNetwork);

    expect(await missingFor("r")).toEqual([]);
  });

  test("nothing of the customer lies on the phone, whatever the server told", async () => {
    await keepMyBench();

    const db = await benchDb();
    const all = await Promise.all([...db.objectStoreNames].map((store) => db.getAll(store)));
    const text = JSON.stringify(all);
    expect(text).toContain("U0000011");
    for (const told of [...Object.values(customer).slice(1), "Ada", "secret"])
      expect(text).not.toContain(told);
  });

  test("a model sheet that no repair on the phone has any more is forgotten", async () => {
    await keepMyBench();
    await (await benchDb()).put("sheets", { id: "old", sheet: {} as never, pictures: [] });

    await keepMyBench();

    expect(await (await benchDb()).getAllKeys("sheets")).toEqual(["m"]);
  });

  test("a worksheet of somebody else's repair that was opened here stays, others go", async () => {
    const db = await benchDb();
    for (const worksheet of ["opened", "other"])
      await db.put("worksheets", { worksheet, sha256: "p", row: {}, pictures: [] } as never);
    await noteOpened("opened");

    await keepMyBench();

    expect(await db.getAllKeys("worksheets")).toEqual(["opened", "w"]);
  });
});
