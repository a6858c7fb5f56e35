import { beforeEach, describe, expect, test, vi } from "vitest";
import type { Me } from "$lib/api/shapes";
import { benchDb } from "$lib/db/open";
import type { KeptWorksheet } from "$lib/db/schema";
import type { Entry } from "$lib/api/work-shapes";
import { onChange } from "$lib/queue/changes";
import { drain, nextBatch } from "$lib/queue/drain";
import { keepEntry, type NewEntry } from "$lib/queue/record";
import { refreshQueueState } from "$lib/queue/refresh";
import { throwAway, tryAgain } from "$lib/queue/settle";
import { queueState } from "$lib/queue/state.svelte";
import { tech } from "../../stand-ins/people";
import { EntryServer } from "../../stand-ins/server";

const anna = tech("anna");
const bert = tech("bert");
let server: EntryServer;

function note(record: string, step: string): NewEntry {
  return { repair: "repair-1", worksheet: record, step, kind: "note", value: { text: step } };
}
async function keep(count: number, record = "sheet-1", me: Me = anna) {
  const made = [];
  for (let i = 0; i < count; i++) made.push(await keepEntry(note(record, `step-${String(i)}`), me));
  return made;
}
async function keepSheet(id: string) {
  const row = { id, stage: "open", last_seq: 0 } as KeptWorksheet["row"];
  await (await benchDb()).put("worksheets", { worksheet: id, sha256: "s", row, pictures: [] });
}
async function waiting() {
  return (await benchDb()).getAll("queue");
}

beforeEach(async () => {
  const db = await benchDb();
  for (const store of ["queue", "entries", "photos", "sent", "worksheets", "meta"] as const)
    await db.clear(store);
  await db.put("meta", anna, "me");
  server = new EntryServer();
});

describe("draining the queue", () => {
  test("sends everything once, in the order of making, in batches of at most 100", async () => {
    const made = await keep(250);

    const done = await drain(server, anna.id);

    expect(done).toBe("done");
    expect(server.all()).toEqual(made.map((entry) => entry.id));
    expect(server.batches).toEqual([100, 100, 50]);
    expect(await waiting()).toEqual([]);
  });

  test("numbers of the server are kept with the entries, and a copy for 14 days", async () => {
    const [entry] = await keep(1);

    await drain(server, anna.id);

    const db = await benchDb();
    expect((await db.get("entries", entry!.id))?.seq).toBe(1);
    expect(await db.get("sent", entry!.id)).toBeDefined();
  });

  test("a lost answer leaves the entries on the phone, and the repeat doubles nothing", async () => {
    const made = await keep(3);
    server.loseAnswers = 1;

    const first = await drain(server, anna.id);
    const between = await waiting();
    const second = await drain(server, anna.id);

    expect([first, between.length, second]).toEqual(["later", 3, "done"]);
    expect(server.all()).toEqual(made.map((entry) => entry.id));
    expect(await waiting()).toEqual([]);
  });

  test("without network everything stays and the screen says how much", async () => {
    await keep(2);
    server.away = true;

    expect(await drain(server, anna.id)).toBe("later");

    await refreshQueueState();
    expect(queueState.waiting).toBe(2);
  });

  test("a refused entry stays, marked, and holds back only its own record", async () => {
    server.refuses.set("step-1", "repair_closed");
    await keep(3, "sheet-1");
    const others = await keep(2, "sheet-2");
    const sheet2 = await keepEntry(note("sheet-2", "last"), anna);

    await drain(server, anna.id);

    expect(server.records.get("sheet-1")?.length).toBe(1);
    const left = await waiting();
    expect(left.filter((one) => one.state === "refused").map((one) => one.code)).toEqual([
      "repair_closed",
      "repair_closed",
    ]);
    expect(left.find((one) => one.id === others[0]!.id)).toBeUndefined();
    expect(left.find((one) => one.id === sheet2.id)?.state).toBe("waiting");
    expect(await nextBatch(anna.id)).toEqual([]);
  });

  test("a refused entry that is thrown away lets the rest of its record go on", async () => {
    server.refuses.set("step-1", "unknown_step");
    await keep(3);
    await drain(server, anna.id);
    const refused = (await waiting()).find((one) => one.state === "refused");

    await throwAway(refused!);
    await drain(server, anna.id);

    expect(server.all()).toHaveLength(2);
    expect(await waiting()).toEqual([]);
    expect(await (await benchDb()).get("entries", refused!.id)).toBeUndefined();
  });

  test("a refused entry is sent again as it is when its maker says so", async () => {
    server.refuses.set("step-0", "repair_closed");
    const [entry] = await keep(1);
    await drain(server, anna.id);
    server.refuses.clear();

    await tryAgain((await waiting())[0]!);
    await drain(server, anna.id);

    expect(server.all()).toEqual([entry!.id]);
  });

  test("entries of another person wait for their maker's own login", async () => {
    await keep(2, "sheet-1", bert);
    const mine = await keep(1, "sheet-2", anna);

    await drain(server, anna.id);

    expect(server.all()).toEqual(mine.map((entry) => entry.id));
    await refreshQueueState();
    expect(queueState.others).toEqual([{ name: "bert", count: 2 }]);
  });

  test("a server that says the login is another one leaves the entry waiting, not refused", async () => {
    server.refuses.set("step-0", "not_your_login");
    await keep(1);

    expect(await drain(server, anna.id)).toBe("later");

    expect((await waiting())[0]?.state).toBe("waiting");
  });

  test("two drains at once send each entry once", async () => {
    const made = await keep(5);

    const outcomes = await Promise.all([drain(server, anna.id), drain(server, anna.id)]);

    expect(outcomes).toEqual(["done", "elsewhere"]);
    expect(server.all()).toEqual(made.map((entry) => entry.id));
    expect(server.batches).toEqual([5]);
  });

  test("a photo goes before the entry that names it, and a refused photo marks its entry", async () => {
    const photo = (sha256: string) => ({ sha256, blob: new Blob(["x"]), width: 1, height: 1 });
    const entry = (sha256: string, record: string): NewEntry => ({
      ...note(record, "look"),
      kind: "photo",
      value: { sha256 },
      photo: photo(sha256),
    });
    await keepEntry(entry("good", "sheet-1"), anna);
    await keepEntry(entry("bad", "sheet-2"), anna);

    await drain(server, anna.id);

    expect(server.photos).toEqual(["good"]);
    expect(server.records.has("sheet-2")).toBe(false);
    expect((await waiting()).map((one) => one.code)).toEqual(["not_an_image"]);
  });

  test("after a restore of an older copy, what was acknowledged is offered again", async () => {
    await (
      await benchDb()
    ).put("worksheets", { worksheet: "sheet-1", sha256: "s", row: { id: "sheet-1" } } as KeptWorksheet);
    const made = await keep(3);
    await drain(server, anna.id);
    server.records.set("sheet-1", server.records.get("sheet-1")!.slice(0, 1));

    await keepEntry(note("sheet-2", "hello"), anna);
    await drain(server, anna.id);

    expect(server.all().sort()).toEqual(expect.arrayContaining(made.map((entry) => entry.id)));
  });

  test("with nothing to send, what others recorded comes all the same, and once", async () => {
    await keepSheet("sheet-1");
    server.others.push({
      ...(note("sheet-1", "of-bert") as Entry),
      id: "of-bert",
      record: "sheet-1",
      seq: 1,
    });

    const done = await drain(server, anna.id);

    expect(done).toBe("done");
    expect((await (await benchDb()).get("entries", "of-bert"))?.seq).toBe(1);
    const drawn = vi.fn();
    const stop = onChange(drawn);
    await drain(server, anna.id);
    stop();
    expect(drawn).not.toHaveBeenCalled();
  });

  test("a worksheet that was stopped elsewhere is known as stopped, though nothing is new in it", async () => {
    await keepSheet("sheet-1");
    server.records.set("sheet-1", []);
    server.stages.set("sheet-1", "stopped");

    await drain(server, anna.id);

    expect((await (await benchDb()).get("worksheets", "sheet-1"))?.row.stage).toBe("stopped");
  });

  test("asking what others recorded without network is no success", async () => {
    await keepSheet("sheet-1");
    server.away = true;

    expect(await drain(server, anna.id)).toBe("later");
  });

  describe("on a full phone", () => {
    /** From now on nothing more is put into the store; deleting goes on. */
    function fillUp() {
      const full = () => {
        throw new DOMException("no room", "QuotaExceededError");
      };
      vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(full);
    }

    test("what the server has taken leaves the queue, though nothing more can be noted", async () => {
      const made = await keep(2);
      fillUp();

      const done = await drain(server, anna.id);

      expect(done).toBe("done");
      expect(server.all()).toEqual(made.map((entry) => entry.id));
      expect(await waiting()).toEqual([]);
    });

    test("a photo that the server has makes room", async () => {
      const photo = { sha256: "good", blob: new Blob(["x"]), width: 1, height: 1 };
      await keepEntry({ ...note("sheet-1", "look"), kind: "photo", value: { sha256: "good" }, photo }, anna);
      fillUp();

      await drain(server, anna.id);

      expect(server.photos).toEqual(["good"]);
      expect(await (await benchDb()).getAllKeys("photos")).toEqual([]);
      expect(await waiting()).toEqual([]);
    });
  });
});
