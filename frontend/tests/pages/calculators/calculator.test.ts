import { cleanup, fireEvent, render, screen, within } from "@testing-library/svelte";
import { beforeEach, expect, test, vi } from "vitest";
import { benchDb } from "$lib/db/open";
import { hashOf } from "$lib/calculators/link";
import { calculator, answer, worked } from "../../stand-ins/calculators";
import Calculator from "../../../src/pages/calculators/parts/Calculator.svelte";

const server = vi.fn<typeof fetch>();
const sent = (): unknown => JSON.parse(server.mock.calls.at(-1)?.[1]?.body as string);
const answers =
  (body: unknown, status = 200) =>
  () =>
    Promise.resolve(new Response(JSON.stringify(body), { status }));
const press = (name: string) => fireEvent.click(screen.getByRole("button", { name }));
const type = async (label: string, value: string) =>
  fireEvent.input(await screen.findByLabelText(label), { target: { value } });

beforeEach(async () => {
  history.replaceState(null, "", "/app/calculators/fuses.test");
  document.cookie = "csrftoken=t";
  const db = await benchDb();
  await db.clear("answers");
  await db.clear("drafts");
  Element.prototype.scrollIntoView = vi.fn();
  server.mockReset();
  server.mockImplementation(answers(answer()));
  vi.stubGlobal("fetch", server);
});

async function open() {
  render(Calculator, { row: calculator() });
  await fireEvent.click(await screen.findByRole("button", { name: "Fill in the example" }));
}

test("the example is filled in, asked, and answered with kind, sentence, cautions, working and sources", async () => {
  await open();
  await press("Work it out");

  const shown = within(await screen.findByRole("region", { name: "Answer" }));
  expect(await shown.findByText("Worked out, but look twice")).toBeTruthy();
  expect(sent()).toEqual(worked);
  for (const text of ["Unplug it first.", "I = P / U", "0.13 A", "Another says 125 mA.", "(second-hand)"])
    expect(shown.getByText(text)).toBeTruthy();
});

test("what was asked stands in the address, so that it can be passed on", async () => {
  await open();
  await press("Work it out");
  await screen.findByText("Worked out, but look twice");

  expect(location.hash).toBe(hashOf(worked));
});

test("a link that is opened is answered at once", async () => {
  history.replaceState(null, "", hashOf(worked));
  render(Calculator, { row: calculator() });

  expect(await screen.findByText("Worked out, but look twice")).toBeTruthy();
  expect(sent()).toEqual(worked);
});

test("a number that cannot be read is told at its field, and nothing is asked", async () => {
  await open();
  await type("Supply (V)", "5000");
  await press("Work it out");

  const field = screen.getByLabelText("Supply (V)");
  expect(field.getAttribute("aria-invalid")).toBe("true");
  expect(screen.getByText("At most 1 kV.")).toBeTruthy();
  expect(document.activeElement).toBe(field);
  expect(server).not.toHaveBeenCalled();
});

test("a refusal of the server is told at the field it names", async () => {
  const errors = [{ field: "sections[0].taps", code: "taps_not_rising", detail: "The taps do not rise." }];
  server.mockImplementation(answers({ code: "bad_input", errors }, 400));
  await open();
  await press("Work it out");

  const told = await screen.findByText("The taps do not rise.");
  expect(told.closest("fieldset")?.querySelector("legend")?.textContent).toBe("Taps");
});

test("a refusal of a folded field unfolds it", async () => {
  const errors = [{ field: "count", code: "bad_input", detail: "Not so many." }];
  server.mockImplementation(answers({ code: "bad_input", errors }, 400));
  await open();
  await press("Work it out");

  const told = await screen.findByText("Not so many.");
  expect(told.closest("details")?.open).toBe(true);
});

test("an answer says so when the form has changed since", async () => {
  await open();
  await press("Work it out");
  await screen.findByText("Worked out, but look twice");
  await type("Supply (V)", "115");

  expect(await screen.findByText(/The form has changed since/)).toBeTruthy();
});

test("what was typed after an answer is there again after a reload, and is not asked by itself", async () => {
  await open();
  await press("Work it out");
  await screen.findByText("Worked out, but look twice");
  await type("Supply (V)", "11");
  await vi.waitFor(async () => {
    const kept = await (await benchDb()).get("drafts", "calculator/fuses.test");
    expect(kept?.value).toMatchObject({ hash: hashOf(worked), drafts: { supply_volt: "11" } });
  });
  cleanup();

  render(Calculator, { row: calculator() });

  await vi.waitFor(() => expect(screen.getByLabelText<HTMLInputElement>("Supply (V)").value).toBe("11"));
  expect(server).toHaveBeenCalledTimes(1);
});

test("what was typed and not asked is there again after a reload", async () => {
  const { unmount } = render(Calculator, { row: calculator() });
  await type("Supply (V)", "11");
  await vi.waitFor(async () => {
    const kept = await (await benchDb()).get("drafts", "calculator/fuses.test");
    expect(kept?.value).toMatchObject({ drafts: { supply_volt: "11" } });
  });
  unmount();

  render(Calculator, { row: calculator() });

  await vi.waitFor(() => expect(screen.getByLabelText<HTMLInputElement>("Supply (V)").value).toBe("11"));
});

test("without network an answer of before is shown as such, and can be tapped", async () => {
  await open();
  await press("Work it out");
  await screen.findByText("Worked out, but look twice");
  server.mockRejectedValue(new TypeError("no network"));
  await type("Supply (V)", "115");
  await press("Work it out");
  expect(await screen.findByText(/this was never asked on this phone/)).toBeTruthy();
  expect(screen.getByLabelText<HTMLInputElement>("Supply (V)").value).toBe("115");

  await fireEvent.click(await screen.findByRole("button", { name: /Supply 230 V/ }));

  expect(await screen.findByText(/kept on this phone/)).toBeTruthy();
  expect(screen.getByLabelText<HTMLInputElement>("Supply (V)").value).toBe("230");
});

test("a number without a prefix is repeated with its unit where it hardly can be meant", async () => {
  const input = {
    type: "object",
    properties: {
      farad: { title: "Reservoir", type: "number", "x-unit": "F" },
      volt: { title: "Charged to", type: "number", "x-unit": "V" },
    },
    required: ["farad", "volt"],
  };
  render(Calculator, { row: calculator({ input, example: {} }) });
  await type("Reservoir (F)", "47");
  await type("Charged to (V)", "400");

  expect(screen.getByText("= 47 F")).toBeTruthy();
  expect(screen.queryByText("= 400 V")).toBeNull();
  await type("Reservoir (F)", "47u");
  expect(screen.getByText("= 47 µF")).toBeTruthy();
});

test("what is folded away is named", async () => {
  render(Calculator, { row: calculator() });

  expect((await screen.findAllByText("More, may be left out:", { exact: false }))[0]?.textContent).toContain(
    "Margin, Pieces, Marking",
  );
});
