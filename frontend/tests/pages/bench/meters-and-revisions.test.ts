import { fireEvent, render, screen, within } from "@testing-library/svelte";
import { afterEach, expect, test, vi } from "vitest";
import type { WorksheetRow } from "$lib/api/shapes";
import type { Meter } from "$lib/api/work-shapes";
import { dropDraft } from "$lib/db/drafts";
import NewerRevision from "../../../src/pages/bench/parts/NewerRevision.svelte";
import { stepOf, workCard } from "../../stand-ins/worksheet";

const meter = (name: string, due_on: string): Meter => {
  const accuracy = [{ quantity: "resistance", percent: 1, counts: 0, resolution: 0 }];
  return { id: name, code: name, name, kinds: [], state: "ok", due_on, accuracy };
};
const meters = [meter("Old ohmmeter", "2020-01-31"), meter("New ohmmeter", "2999-01-01")];
const winding = stepOf("winding", "reading", { quantity: "resistance", unit: "ohm", phase: "as_left" });
const choice = () => screen.getByRole<HTMLSelectElement>("combobox", { name: "Meter" });
afterEach(async () => {
  vi.unstubAllGlobals();
  await dropDraft("reading/w/winding");
});

test("an overdue meter stands last, marked in words, and warns before anything is saved", async () => {
  workCard({ steps: [winding], meters }, "winding");
  await vi.waitFor(() => expect(choice().value).toBe("New ohmmeter"));

  await fireEvent.change(choice(), { target: { value: "Old ohmmeter" } });

  const last = within(choice()).getAllByRole<HTMLOptionElement>("option").at(-1);
  expect([last?.textContent, last?.disabled]).toEqual(["△ Old ohmmeter (calibration overdue)", false]);
  expect(screen.getByText(/Calibration was due on/)).toBeTruthy();
});

test("where the shop forbids it for a quantity, an overdue meter cannot be chosen and the reason is said", async () => {
  workCard({ steps: [winding], meters, overdue_forbidden: ["resistance"] }, "winding");
  await vi.waitFor(() => expect(choice().value).toBe("New ohmmeter"));

  const last = within(choice()).getAllByRole<HTMLOptionElement>("option").at(-1);
  expect(last?.disabled).toBe(true);
  expect(screen.getByText(/does not read this with a meter whose calibration is overdue: Old/)).toBeTruthy();
});

const row = { id: "w", revision: 4, newest_revision: 5, stage: "open" } as WorksheetRow;
const showBanner = (more: Partial<WorksheetRow> = {}) =>
  render(NewerRevision, { props: { row: { ...row, ...more }, slug: "dead-working" } });
const said = "Revision 5 of this template is out; this worksheet stays on revision 4.";

test("an open worksheet says that a newer revision is out, and what is different in it", async () => {
  const fetched = vi.fn<typeof fetch>(() =>
    Promise.resolve(Response.json({ changes: [{ text: "Step “Wait” is new." }] })),
  );
  vi.stubGlobal("fetch", fetched);
  showBanner();

  expect(screen.getByText(said)).toBeTruthy();
  await fireEvent.click(screen.getByRole("button", { name: "What is different" }));

  expect(await screen.findByText("Step “Wait” is new.")).toBeTruthy();
  expect(fetched.mock.calls[0]?.[0]).toBe("/api/v1/job-templates/dead-working/difference/?from=4&to=5");
});

test("without network it says that the difference needs it", async () => {
  vi.stubGlobal("fetch", () => Promise.reject(new TypeError("no network")));
  showBanner();

  await fireEvent.click(screen.getByRole("button", { name: "What is different" }));

  expect(await screen.findByText(/The difference needs the network/)).toBeTruthy();
});

test.each([{ newest_revision: 4 }, { stage: "passed" as const }])("with %o nothing is said", (more) => {
  showBanner(more);

  expect(screen.queryByText(/is out/)).toBeNull();
});
