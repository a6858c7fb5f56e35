import { beforeEach, describe, expect, test } from "vitest";
import { keepDraft, readDraft } from "$lib/db/drafts";
import { benchDb } from "$lib/db/open";
import type { QueuedEntry } from "$lib/db/schema";
import { backToDraft, draftOf } from "$lib/queue/mend";
import { keepEntry, type NewEntry } from "$lib/queue/record";
import { refuse } from "$lib/queue/settle";
import { tech } from "../../stand-ins/people";

const anna = tech("anna");
const onStep = { repair: "repair-1", worksheet: "sheet-1", step: "rail" };
const inLog = { repair: "repair-1" };

const queued = async () => (await benchDb()).getAll("queue");
async function refused(entry: NewEntry): Promise<QueuedEntry> {
  await keepEntry(entry, anna);
  await refuse((await queued())[0]!, "repair_closed", "Closed.");
  return (await queued())[0]!;
}

beforeEach(async () => {
  const db = await benchDb();
  for (const store of ["queue", "entries", "drafts", "meta"] as const) await db.clear(store);
  await db.put("meta", anna, "me");
});

describe("mending what was refused", () => {
  test.each<[string, NewEntry, string, string]>([
    ["a reading", { ...onStep, kind: "reading", value: { as_typed: "1.1" } }, "reading/sheet-1/rail", "1.1"],
    ["a note", { ...onStep, kind: "note", value: { text: "hums" } }, "note/sheet-1/rail", "hums"],
    [
      "a finding",
      { ...inLog, kind: "finding", value: { finding: "cause", text: "C7" } },
      "log/repair-1",
      "C7",
    ],
    ["a note of the log", { ...inLog, kind: "note", value: { text: "ask" } }, "log/repair-1", "ask"],
  ])("%s goes back to the field it was typed in", async (_what, entry, key, typed) => {
    const one = await refused(entry);

    await backToDraft(one);

    expect(await readDraft(key)).toBe(typed);
    expect(await queued()).toEqual([]);
  });

  test("what stands in the bench log's field meanwhile stays there as well", async () => {
    const one = await refused({ ...inLog, kind: "finding", value: { finding: "other", text: "first" } });
    await keepDraft("log/repair-1", "second");

    await backToDraft(one);

    expect(await readDraft("log/repair-1")).toBe("first\nsecond");
  });

  test.each<[string, NewEntry]>([
    ["a photo", { ...onStep, kind: "photo", value: { sha256: "s", caption: "front", text: "" } }],
    ["a choice", { ...onStep, kind: "choice", value: { choice: "clean" } }],
    ["a reading of the log", { ...inLog, kind: "reading", value: { as_typed: "5", name: "TP1" } }],
  ])("%s gives nothing back and is not thrown away by mending", async (_what, entry) => {
    const one = await refused(entry);

    await backToDraft(one);

    expect(draftOf(one)).toBeNull();
    expect(await queued()).toHaveLength(1);
  });
});
