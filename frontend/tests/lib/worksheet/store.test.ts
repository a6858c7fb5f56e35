import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { benchDb } from "$lib/db/open";
import { keptPicture } from "$lib/photos/kept";
import { keepMyBench } from "$lib/worksheet/keep-bench";
import { fetchWorksheet, keptWorksheet } from "$lib/worksheet/store";

const [A, B] = ["a".repeat(64), "b".repeat(64)];
const shown = (...hashes: string[]) => hashes.map((sha256) => ({ sha256, caption: "" }));
/** A server with worksheets and the pictures their steps show. */
const server = {
  asked: [] as string[],
  mine: [] as string[],
  pictures: {} as Record<string, string[]>,
  away: false,
  fetch(this: void, address: string): Promise<Response> {
    const path = address.replace("/api/v1/", "");
    server.asked.push(path);
    const [kind, id = "", what] = path.split("/");
    if (kind === "photos")
      return server.away ? Promise.reject(new TypeError()) : Promise.resolve(new Response("jpeg"));
    return Promise.resolve(Response.json(server.answer(kind ?? "", id, what ?? "")));
  },
  answer(kind: string, id: string, what: string): unknown {
    if (kind === "my-packs")
      return {
        worksheets: server.mine.map((one) => ({
          id: one,
          pack_sha256: `sha-${one}`,
          last_seq: 0,
          repair: "r",
        })),
      };
    if (kind === "codes") return { codes: [] };
    if (kind?.startsWith("calculators")) return { results: [] };
    if (kind === "repairs" && id.startsWith("?")) return { results: [] };
    if (kind === "records") return { last_seq: 0, entries: [] };
    if (kind === "repairs") return { id, worksheets: [], unit: { code: "", pieces: [] } };
    if (what === "pack") return { steps: [{ id: "s", pictures: shown(...(server.pictures[id] ?? [])) }] };
    return { id, repair: "r", pack_sha256: `sha-${id}`, last_seq: 0, entries: [] };
  },
};
beforeEach(async () => {
  Object.assign(server, { asked: [], mine: [], pictures: {}, away: false });
  vi.stubGlobal("fetch", server.fetch);
  const db = await benchDb();
  for (const store of ["worksheets", "packs", "pictures", "entries"] as const) await db.clear(store);
});
afterEach(() => vi.unstubAllGlobals());

test("the pictures of a pack come with it and are there without network", async () => {
  server.pictures = { w: [A, B] };

  await fetchWorksheet("w");

  await vi.waitFor(async () => expect(await keptPicture(B)).not.toBeNull());
  expect(await keptPicture(A)).not.toBeNull();
  expect(server.asked).toContain(`photos/${A}/?width=1600`);
});

test("a pack that is known is not fetched again, nor are its pictures", async () => {
  server.pictures = { w: [A] };
  await fetchWorksheet("w");
  await vi.waitFor(async () => expect(await keptPicture(A)).not.toBeNull());
  server.asked = [];

  await fetchWorksheet("w");

  expect(server.asked).toEqual(["worksheets/w/"]);
  expect((await keptWorksheet("w"))?.pack.steps).toHaveLength(1);
});

test("a picture that could not come is fetched with the next look for my worksheets", async () => {
  Object.assign(server, { pictures: { w: [A] }, mine: ["w"], away: true });
  await fetchWorksheet("w");
  await vi.waitFor(() => expect(server.asked).toContain(`photos/${A}/?width=1600`));
  expect(await keptPicture(A)).toBeNull();
  server.away = false;

  await keepMyBench();

  expect(await keptPicture(A)).not.toBeNull();
});

test("pictures are forgotten with the last worksheet that shows them", async () => {
  Object.assign(server, { pictures: { w: [A, B], v: [B] }, mine: ["w", "v"] });
  await keepMyBench();
  await vi.waitFor(async () => expect(await keptPicture(A)).not.toBeNull());
  server.mine = ["v"];

  await keepMyBench();

  expect(await keptWorksheet("w")).toBeNull();
  expect([await keptPicture(A), (await keptPicture(B)) !== null]).toEqual([null, true]);
});
