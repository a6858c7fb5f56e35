import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Draft } from "$lib/api/template-shapes";
import { dropDraft, readDraft } from "$lib/db/drafts";
import { OpenDraft } from "../../../src/pages/templates/open-draft.svelte";
import { DraftServer, draft } from "../../stand-ins/templates";

let server: DraftServer;
beforeEach(async () => {
  server = new DraftServer(draft());
  vi.stubGlobal("fetch", server.fetch);
  await dropDraft("template-draft/d1");
});
afterEach(() => {
  vi.unstubAllGlobals();
});

async function opened(): Promise<OpenDraft> {
  const open = new OpenDraft("d1");
  await open.open();
  return open;
}
const titled = (title: string) => ({ title }) as Draft["body"];

test("a change is kept on this device at once and sent with the version it was made on", async () => {
  const open = await opened();

  open.change(titled("Fan"));
  const kept = await readDraft<{ body: unknown }>("template-draft/d1");
  await open.save();

  expect(kept?.body).toEqual({ title: "Fan" });
  expect(server.draft.body).toEqual({ title: "Fan" });
  expect(server.puts).toEqual(['"1"']);
  expect(open.saving).toBe("saved");
  expect(await readDraft("template-draft/d1")).toBeUndefined();
});

test("without network nothing is lost: it stands again when the draft is opened anew", async () => {
  const open = await opened();
  server.away = true;
  open.change(titled("Fan"));
  await open.save();
  open.close();

  server.away = false;
  const again = await opened();
  expect(open.saving).toBe("offline");
  expect(again.body).toEqual({ title: "Fan" });
  await again.save();
  expect(server.draft.body).toEqual({ title: "Fan" });
});

test("somebody else's change is shown, and mine can stand", async () => {
  const open = await opened();
  server.changeBy("Ben", titled("Theirs"));

  open.change(titled("Mine"));
  await open.save();

  expect(open.theirs?.updated_by_name).toBe("Ben");
  expect(server.draft.body).toEqual({ title: "Theirs" });
  await open.keepMine();
  expect(server.draft.body).toEqual({ title: "Mine" });
});

test("theirs can stand, and one step back brings mine", async () => {
  const open = await opened();
  server.changeBy("Ben", titled("Theirs"));
  open.change(titled("Mine"));
  await open.save();

  await open.takeTheirs();

  expect(open.body).toEqual({ title: "Theirs" });
  open.undo();
  expect(open.body).toEqual({ title: "Mine" });
  await open.save();
  expect(server.draft.body).toEqual({ title: "Mine" });
});

test("what was not sent before somebody else's change is not thrown over theirs", async () => {
  const open = await opened();
  server.away = true;
  open.change(titled("Mine"));
  await open.save();
  open.close();
  server.away = false;
  server.changeBy("Ben", titled("Theirs"));

  const again = await opened();
  await again.save();

  expect(again.theirs?.updated_by_name).toBe("Ben");
  expect(server.draft.body).toEqual({ title: "Theirs" });
});

test("a word typed letter by letter is one step back", async () => {
  const open = await opened();

  open.change(titled("F"), "title");
  open.change(titled("Fa"), "title");
  open.change({ ...titled("Fa"), minutes: 5 }, "minutes");
  open.undo();
  expect(open.body).toEqual({ title: "Fa" });
  open.undo();

  expect(open.body).toEqual({ title: "Before" });
  open.redo();
  expect(open.body).toEqual({ title: "Fa" });
  open.close();
});
