import { beforeEach, expect, test, vi } from "vitest";
import { benchDb } from "$lib/db/open";
import { readDraft } from "$lib/db/drafts";
import { Editing } from "../../../src/pages/sheets/editing.svelte";
import "$lib/words/sheets";

const shape = {
  properties: {
    note: { title: "Note", type: "string", default: "" },
    rated_watt: { title: "Rated power", type: "number", "x-unit": "W" },
  },
};
const change = { id: "c", version: 2, field: "rated_watt", title: "Rated power", why: "", by_name: "Max",
  at: "2026-01-01T00:00:00Z", sentences: ["Rated power: 15 W instead of 14 W."] }; // prettier-ignore

/** A server of one sheet that somebody else may have changed. */
class Books {
  version = 1;
  facts: Record<string, unknown> = { note: "", rated_watt: 14 };

  answer = (address: RequestInfo | URL, asked?: RequestInit): Promise<Response> => {
    const path = address instanceof Request ? address.url : address.toString();
    if (path.includes("/shape/")) return said(shape);
    if (path.includes("/changes/")) return said({ results: this.version > 1 ? [change] : [] });
    if (asked?.method === "PUT") {
      const based = new Headers(asked.headers).get("If-Match");
      if (based !== `"${String(this.version)}"`) return said({ code: "stale", detail: "Stale." }, 412);
      this.version += 1;
      this.facts = JSON.parse(asked.body as string) as Record<string, unknown>;
    }
    const beside = { id: "s", version: this.version, hazards: [], doubts: [], lacks: [] };
    return said({ ...beside, ...this.facts });
  };
}
const said = (body: unknown, status = 200) => Promise.resolve(new Response(JSON.stringify(body), { status }));
let books: Books;

beforeEach(async () => {
  document.cookie = "csrftoken=t";
  await (await benchDb()).clear("drafts");
  books = new Books();
  vi.stubGlobal("fetch", vi.fn<typeof fetch>(books.answer));
});

async function opened(): Promise<Editing> {
  const editing = new Editing("s");
  await editing.load();
  return editing;
}

test("what somebody else saved meanwhile is told, and what I typed is kept on top of it", async () => {
  const editing = await opened();
  editing.form?.put(["note"], "hums");
  books.facts = { note: "", rated_watt: 15 };
  books.version = 2;

  expect(await editing.save()).toBeNull();

  expect(editing.meanwhile).toEqual({ changes: [change], both: [] });
  expect(editing.form?.drafts).toEqual({ note: "hums", rated_watt: "15" });
  expect(await editing.save()).toBe("s");
  expect(books.facts).toMatchObject({ note: "hums", rated_watt: 15 });
});

test("what was typed is there again after a reload, until it is saved", async () => {
  const before = await opened();
  before.form?.put(["note"], "hums");
  before.keepTyped();
  await vi.waitFor(async () => expect(await readDraft("sheet/s")).toBeTruthy());

  const after = await opened();

  expect(after.form?.drafts["note"]).toBe("hums");
  expect(await after.save()).toBe("s");
  expect(await readDraft("sheet/s")).toBeUndefined();
});

test("a refusal of the server stands at its field", async () => {
  const editing = await opened();
  editing.form?.put(["note"], "x");
  const errors = [{ field: "rated_watt", code: "too_large", detail: "This must be at most 20000 W." }];
  vi.stubGlobal("fetch", () => said({ code: "bad_input", detail: "No.", errors }, 400));

  expect(await editing.save()).toBeNull();

  expect(editing.form?.trouble(["rated_watt"])).toBe("This must be at most 20000 W.");
});
