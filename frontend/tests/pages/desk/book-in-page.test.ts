import { fireEvent, render, screen, waitFor } from "@testing-library/svelte";
import { beforeEach, describe, expect, it, vi } from "vitest";
import { dropDraft, readDraft } from "$lib/db/drafts";
import { session } from "$lib/session/session.svelte";
import BookInPage from "../../../src/pages/desk/BookInPage.svelte";
import type { BookInForm } from "../../../src/pages/desk/book-in/form";
import { readForm } from "../../../src/pages/desk/book-in/kept";
import { desk, fakeServer, json, repair } from "../../stand-ins/desk";

// jsdom draws nothing: a pad on which nobody signs.
vi.mock("signature_pad", () => ({
  default: class {
    addEventListener = () => undefined;
    off = () => undefined;
    clear = () => undefined;
    toData = () => [];
    fromData = () => undefined;
  },
}));
class NoResize {
  observe = () => undefined;
  disconnect = () => undefined;
}

const POST = "POST repairs/";
function fill(label: string, value: string) {
  return fireEvent.input(screen.getByLabelText(label), { target: { value } });
}
async function open() {
  render(BookInPage);
  await screen.findByRole("heading", { name: "Book in" });
}
async function fillAll() {
  await fill("Name", "Lena Okafor");
  await fill("Make", "Brindlow");
  await fill("Model", "E9");
  await fill("What is wrong, in the customer's words", "Hums");
  await fill("Name of who signs", "Lena O.");
}
const save = () => fireEvent.click(screen.getByRole("button", { name: "Save and print" }));

beforeEach(async () => {
  sessionStorage.clear();
  await dropDraft("book-in");
  session.me = desk();
  vi.stubGlobal("ResizeObserver", NoResize);
  vi.stubGlobal("scrollTo", () => undefined);
  document.cookie = "csrftoken=abc";
  history.replaceState(null, "", "/app/book-in");
});

describe("booking in", () => {
  it("begins at the customer's name", async () => {
    vi.stubGlobal("fetch", fakeServer({}).fetch);

    await open();

    await waitFor(() => expect(document.activeElement).toBe(screen.getByRole("combobox", { name: "Name" })));
  });

  it("says at each field what is missing, goes to the first, and sends nothing", async () => {
    const server = fakeServer({});
    vi.stubGlobal("fetch", server.fetch);
    await open();

    await save();

    const name = screen.getByRole("combobox", { name: "Name" });
    expect(name.getAttribute("aria-invalid")).toBe("true");
    expect(screen.getByLabelText("Model").getAttribute("aria-invalid")).toBe("true");
    expect(screen.getByText("Model: Please fill this in.")).toBeTruthy();
    await waitFor(() => expect(document.activeElement).toBe(name));
    expect(server.of(POST)).toEqual([]);
  });

  it("puts the server's objection beside its field and goes there", async () => {
    const refusal = {
      code: "bad_input",
      detail: "no",
      errors: [{ field: "use_at_volt", code: "supply_not_there", detail: "Germany has 230 V." }],
    };
    vi.stubGlobal("fetch", fakeServer({ [POST]: () => json(refusal, 400) }).fetch);
    await open();
    await fillAll();

    await save();

    const volts = await screen.findByLabelText("Use at, in volts");
    await waitFor(() => expect(volts.getAttribute("aria-invalid")).toBe("true"));
    expect(screen.getAllByText("Germany has 230 V.").length).toBeGreaterThan(0);
    await waitFor(() => expect(document.activeElement).toBe(volts));
    expect(screen.getByRole("checkbox", { name: "This supply is meant all the same" })).toBeTruthy();
  });

  it("keeps its id when the answer is lost, books once and drops the draft", async () => {
    let tries = 0;
    const server = fakeServer({
      [POST]: (body) => {
        tries += 1;
        if (tries === 1) throw new TypeError("lost");
        return json(repair({ id: (body as { id: string }).id }), 200);
      },
    });
    vi.stubGlobal("fetch", server.fetch);
    await open();
    await fillAll();

    await save();
    await screen.findByText(/did not answer/);
    await save();

    await waitFor(() => expect(location.pathname).toMatch(/^\/app\/booked\//));
    const ids = server.of(POST).map((one) => (one.body as { id: string }).id);
    expect(ids).toHaveLength(2);
    expect(ids[0]).toBe(ids[1]);
    expect(location.pathname).toBe(`/app/booked/${ids[0] ?? ""}`);
    expect(await readDraft("book-in")).toBeUndefined();
  });

  it("asks once when nobody has signed, and saves all the same when told to", async () => {
    const answers = { [POST]: () => json({ code: "odd", detail: "Not now." }, 409) };
    const server = fakeServer(answers);
    vi.stubGlobal("fetch", server.fetch);
    await open();
    await fillAll();
    await fill("Name of who signs", " ");

    await save();
    expect(screen.getByText("Nobody has signed. Save all the same?")).toBeTruthy();
    expect(server.of(POST)).toEqual([]);
    await fireEvent.click(screen.getByRole("button", { name: "Save all the same" }));
    await screen.findByText("Not now.");
    await save();

    await waitFor(() => expect(server.of(POST)).toHaveLength(2));
  });

  it("shows the repair a unit is already here as", async () => {
    const refusal = {
      code: "already_here",
      detail: "This unit is already here.",
      repair: "r9",
      number: "41",
    };
    vi.stubGlobal("fetch", fakeServer({ [POST]: () => json(refusal, 409) }).fetch);
    await open();
    await fillAll();

    await save();

    const link = await screen.findByRole("link", { name: "Open repair 41" });
    expect(link.getAttribute("href")).toBe("/app/desk/repairs/r9");
  });

  it("keeps what is typed for after a reload, and on the device nothing of the customer", async () => {
    vi.stubGlobal("fetch", fakeServer({}).fetch);
    await open();
    await fill("Name", "Lena Okafor");
    await fireEvent.click(screen.getByRole("button", { name: "mains cord" }));

    await waitFor(async () => {
      const kept = await readForm();
      expect(kept?.customer.name).toBe("Lena Okafor");
      expect(kept?.pieces).toEqual(["mains cord"]);
    });
    expect(JSON.stringify(await readDraft("book-in"))).not.toContain("Okafor");
    sessionStorage.clear(); // the tab was closed
    expect((await readForm())?.customer.name).toBe("");
    expect((await readForm())?.pieces).toEqual(["mains cord"]);
  });

  it("clears only when asked twice, and then goes on with another id", async () => {
    vi.stubGlobal("fetch", fakeServer({}).fetch);
    await open();
    await fill("Name", "Lena Okafor");
    await waitFor(async () => expect(await readDraft("book-in")).toBeTruthy());
    const before = await readDraft<BookInForm>("book-in");

    await fireEvent.click(screen.getByRole("button", { name: "Clear all" }));
    await fireEvent.click(screen.getByRole("button", { name: "Clear it" }));
    await waitFor(() => {
      expect(screen.getByRole<HTMLInputElement>("combobox", { name: "Name" }).value).toBe("");
    });
    await fill("Name", "Ada");

    await waitFor(async () => {
      const after = await readForm();
      expect(after?.customer.name).toBe("Ada");
      expect(after?.id).not.toBe(before?.id);
    });
  });

  it("offers known customers and takes one by the arrow keys", async () => {
    const found = { id: "c1", name: "Lena Okafor", phone: "030 1", email: "", language: "de" };
    const customers = { "GET customers/": () => json({ results: [found], next: null, previous: null }) };
    vi.stubGlobal("fetch", fakeServer(customers).fetch);
    await open();
    await fill("Name", "Lena");
    await screen.findByRole("option", { name: /Lena Okafor/ });

    const name = screen.getByRole("combobox", { name: "Name" });
    await fireEvent.keyDown(name, { key: "ArrowDown" });
    await fireEvent.keyDown(name, { key: "Enter" });

    expect(await screen.findByRole("button", { name: "Another customer" })).toBeTruthy();
    expect(screen.queryByLabelText("Phone")).toBeNull();
  });
});
