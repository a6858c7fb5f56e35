import { readFileSync } from "node:fs";
import { describe, expect, it, vi } from "vitest";
import type { PaperDocument, RepairRow } from "$lib/api/shapes";
import { COUNTRIES, countryNames } from "../../../src/pages/desk/book-in/countries";
import { linesToSend, sumOf, typedLines } from "../../../src/pages/desk/estimate-form";
import { handBackBody, handBackWrong, piecesHere } from "../../../src/pages/desk/hand-back";
import { currentPapers, Papers } from "../../../src/pages/desk/papers.svelte";
import { Visit } from "../../../src/pages/desk/visit.svelte";
import { deskLists } from "../../../src/pages/desk/waiting";
import { fakeServer, json, repair, row } from "../../stand-ins/desk";

describe("the countries offered", () => {
  it("are those of the shop's table of supplies", () => {
    const table = readFileSync("../shop/calc/supplies/places.py", "utf8");
    const known = [...table.matchAll(/^ {4}"([A-Z]{2})": Place/gm)].map((match) => match[1]);

    expect(COUNTRIES).toEqual([...new Set(known)].sort());
  });

  it("have a name in the language of the screen", () => {
    expect(countryNames("de").find((one) => one.code === "JP")?.name).toBe("Japan");
    expect(countryNames("de").find((one) => one.code === "DE")?.name).toBe("Deutschland");
  });
});

describe("the lists of the first page", () => {
  it("put each repair in one list, the earliest promise first", () => {
    const rows = [
      row({ id: "a", stage: "ready", due_on: "2026-01-01" }),
      row({ id: "b", stage: "awaiting_go_ahead" }),
      row({ id: "c", due_on: "2026-01-05" }),
      row({ id: "d", due_on: "2026-01-03" }),
      row({ id: "e", due_on: "2026-01-06" }),
      row({ id: "f", stage: "declined" }),
    ];

    const lists = deskLists(rows, "2026-01-05");

    const ids = (list: RepairRow[]) => list.map((one) => one.id);
    expect({
      ready: ids(lists.ready),
      customer: ids(lists.customer),
      due: ids(lists.due),
      leaves: ids(lists.leaves),
      rest: ids(lists.rest),
    }).toEqual({ ready: ["a"], customer: ["b"], due: ["d", "c"], leaves: ["f"], rest: ["e"] });
  });
});

describe("the lines of an estimate", () => {
  it("are sent in minor units, blank ones left out", () => {
    const typed = [
      { text: "Capacitor", quantity: "2", price: "12,50" },
      { text: "", quantity: "1", price: "" },
    ];

    expect(linesToSend(typed, 2)).toEqual([{ text: "Capacitor", quantity: 2, price_minor: 1250 }]);
    expect(sumOf(typed, 2)).toBe(2500);
  });

  it("are not sent while one cannot be read, nor when there is none", () => {
    expect(linesToSend([{ text: "Capacitor", quantity: "0", price: "1" }], 2)).toBeNull();
    expect(linesToSend([{ text: "", quantity: "1", price: "5" }], 2)).toBeNull();
    expect(linesToSend([], 2)).toBeNull();
  });

  it("come back as they were typed", () => {
    const lines = [{ text: "Labour", quantity: 1, price_minor: 4805 }];

    expect(linesToSend(typedLines(lines, 2), 2)).toEqual(lines);
  });
});

describe("handing back", () => {
  const given = { id: "h1", ticked: [] as string[], missing_reason: "", closed_up: false, signature: null };

  it("asks for every piece that is here, or a reason", () => {
    const ready = repair({ stage: "ready" });

    expect(piecesHere(ready).map((piece) => piece.code)).toEqual(["P1"]);
    expect(handBackWrong(ready, given)).toBe("missing_reason");
    expect(handBackWrong(ready, { ...given, missing_reason: "lost" })).toBeNull();
    expect(handBackWrong(ready, { ...given, ticked: ["P1"] })).toBeNull();
  });

  it("asks for the word that a unit left unrepaired is closed up, once", () => {
    const ticked = { ...given, ticked: ["P1"] };

    expect(handBackWrong(repair({ stage: "declined" }), ticked)).toBe("closed_up");
    expect(
      handBackWrong(repair({ stage: "declined", closed_up_at: "2026-01-01T00:00:00Z" }), ticked),
    ).toBeNull();
    expect(handBackBody({ ...ticked, closed_up: true })).toMatchObject({
      pieces: ["P1"],
      is_closed_up: true,
    });
  });
});

describe("papers", () => {
  it("leave out what a newer one replaces", () => {
    const paper = (id: string, replaces: string | null): PaperDocument => ({
      id,
      kind: "tag",
      title: "Tag",
      issued_at: null,
      url: null,
      replaces,
      state: "ready",
    });

    expect(currentPapers([paper("b", "a"), paper("a", null)]).map((one) => one.id)).toEqual(["b"]);
  });
});

describe("changing a repair", () => {
  it("carries the version it was read with and takes the answer", async () => {
    const server = fakeServer({
      "GET repairs/repair-1/": () => json(repair(), 200, { ETag: '"3"' }),
      "PATCH repairs/repair-1/": () =>
        json(repair({ due_on: "2026-02-02", version: 4 }), 200, { ETag: '"4"' }),
    });
    vi.stubGlobal("fetch", server.fetch);
    const visit = new Visit("repair-1");
    await visit.load();

    const refused = await visit.change("PATCH", "", { due_on: "2026-02-02" }, "Saved.");

    expect(refused).toBeNull();
    expect(server.of("PATCH repairs/repair-1/")[0]?.headers.get("If-Match")).toBe('"3"');
    expect([visit.repair?.due_on, visit.etag]).toEqual(["2026-02-02", '"4"']);
  });

  it("reads the newest state when somebody else was quicker, and says so", async () => {
    let version = 3;
    const server = fakeServer({
      "GET repairs/repair-1/": () => json(repair({ version }), 200, { ETag: `"${String(version)}"` }),
      "PATCH repairs/repair-1/": () => json({ code: "stale", detail: "stale" }, 412),
    });
    vi.stubGlobal("fetch", server.fetch);
    const visit = new Visit("repair-1");
    await visit.load();
    version = 5;

    const refused = await visit.change("PATCH", "", { due_on: null }, "Saved.");

    expect(refused).toMatch(/Somebody else changed/);
    expect(visit.etag).toBe('"5"');
  });
});

describe("a paper whose row comes a moment later", () => {
  const invoice = (id: string): PaperDocument => ({
    id,
    kind: "invoice",
    title: "Invoice",
    issued_at: null,
    url: null,
    replaces: null,
    state: "ready",
  });

  it("is looked for until it is there, also when there was one of its kind before", async () => {
    vi.useFakeTimers();
    const answers = [[invoice("a")], [invoice("a")], [invoice("a"), invoice("b")]];
    const server = fakeServer({ "GET repairs/r1/documents/": () => json(answers.shift() ?? []) });
    vi.stubGlobal("fetch", server.fetch);
    const papers = new Papers("r1");
    papers.list = [invoice("a")];

    papers.lookFor("invoice");
    await vi.advanceTimersByTimeAsync(10_000);
    vi.useRealTimers();

    expect(papers.list.map((one) => one.id)).toEqual(["a", "b"]);
    expect(papers.waiting).toBe(false);
    expect(answers).toEqual([]);
  });
});
