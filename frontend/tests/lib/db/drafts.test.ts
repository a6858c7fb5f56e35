import { beforeEach, expect, test } from "vitest";
import { dropDraft, keepDraft, readDraft } from "$lib/db/drafts";
import { benchDb, writeMeta } from "$lib/db/open";

beforeEach(async () => {
  await (await benchDb()).clear("drafts");
  await writeMeta("me", { id: "anna" });
});

test("what one typed is not there for the next who takes the phone, and is when the first comes back", async () => {
  await keepDraft("reading/w/rail", "11");
  await writeMeta("me", { id: "ben" });
  const forBen = await readDraft("reading/w/rail");
  await keepDraft("reading/w/rail", "12");
  await writeMeta("me", { id: "anna" });

  expect([forBen, await readDraft("reading/w/rail")]).toEqual([undefined, "11"]);
});

test("a draft is dropped for whoever has it and stays for the other", async () => {
  await keepDraft("note", "hers");
  await writeMeta("me", { id: "ben" });
  await keepDraft("note", "his");

  await dropDraft("note");

  expect(await readDraft("note")).toBeUndefined();
  await writeMeta("me", { id: "anna" });
  expect(await readDraft("note")).toBe("hers");
});

test("a draft of the version before is still found, and gone once it is dropped", async () => {
  await (await benchDb()).put("drafts", { key: "note", value: "old", at: 1 });

  expect(await readDraft("note")).toBe("old");
  await dropDraft("note");
  expect(await readDraft("note")).toBeUndefined();
});
