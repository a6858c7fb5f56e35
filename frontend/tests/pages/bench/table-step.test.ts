import { fireEvent, screen, waitFor, within } from "@testing-library/svelte";
import { beforeEach, expect, test } from "vitest";
import type { Step } from "$lib/api/work-shapes";
import { dismiss, notices } from "$lib/components/notices.svelte";
import { dropDraft, readDraft } from "$lib/db/drafts";
import { entryOf, stepOf, workCard } from "../../stand-ins/worksheet";

const row = (id: string, title: string) => ({ id, title, set_percent: null, set_volt: null });
const rails = stepOf("rails", "table", {
  title: "All rails",
  phase: "as_left",
  rows: [row("r1", "+15 V"), row("r2", "-15 V")],
  columns: [
    {
      key: "dc",
      title: "DC",
      quantity: "voltage_dc",
      unit: "V",
      band: {
        along: null,
        rows: [
          [14.5, 15.5],
          [-15.5, -14.5],
        ],
      },
    },
    { key: "ripple", title: "Ripple", quantity: "voltage_ac", unit: "V", band: null },
  ],
});
const work = (more: Partial<Step> = {}, ...entries: Parameters<typeof workCard>[2] & object) =>
  workCard({ steps: [{ ...rails, ...more }] }, "rails", entries);
const dialog = () => screen.getByRole("dialog");

async function read(text: string) {
  await fireEvent.input(within(dialog()).getByRole("textbox", { name: /V, / }), { target: { value: text } });
  await fireEvent.click(within(dialog()).getByRole("button", { name: "Save reading" }));
}
beforeEach(async () => {
  for (const notice of notices()) dismiss(notice.id);
  for (const row of ["r1", "r2"])
    for (const column of ["dc", "ripple"]) await dropDraft(`reading/w/rails/${row}/${column}`);
});

test("the next open cell comes up by itself and says which row it is", async () => {
  const saved = work();

  await fireEvent.click(screen.getByRole("button", { name: "Read: +15 V, DC" }));
  await read("15.1");
  await waitFor(() => expect(within(dialog()).getByRole("status").textContent).toBe("+15 V, Ripple"));
  await read("2m");

  await waitFor(() => expect(within(dialog()).getByRole("status").textContent).toBe("-15 V, DC"));
  expect(saved.map((entry) => [entry.step, entry.value["value_text"], entry.verdict])).toEqual([
    ["rails/r1/dc", "15.1", "pass"],
    ["rails/r1/ripple", "0.002", "not_judged"],
  ]);
});

test("what was saved does not wait as a draft in its cell, though another cell has come up since", async () => {
  work();
  const draft = () => readDraft("reading/w/rails/r1/dc");
  await fireEvent.click(screen.getByRole("button", { name: "Read: +15 V, DC" }));
  await fireEvent.input(within(dialog()).getByRole("textbox"), { target: { value: "15.1" } });
  await waitFor(async () => expect(await draft()).toBe("15.1"));

  await fireEvent.click(within(dialog()).getByRole("button", { name: "Save reading" }));

  await waitFor(() => expect(within(dialog()).getByRole("status").textContent).toBe("+15 V, Ripple"));
  await waitFor(async () => expect(await draft()).toBeUndefined());
});

test("a cell tells its row, its column, its value and its result", () => {
  work({}, entryOf("rails/r2/dc", "reading", { value: { value_text: "-15.05" }, verdict: "pass" }));

  expect(screen.getByRole("button", { name: /-15 V,.*DC.*-15.05 V.*pass/s })).toBeTruthy();
  expect(screen.getByRole("button", { name: /-15 V,.*Ripple.*enter/s })).toBeTruthy();
});

test.each([
  ["as_left", 0],
  ["as_found", 1],
] as const)("after a fail %s, %i more cells come up", async (phase, more) => {
  work({ phase });

  await fireEvent.click(screen.getByRole("button", { name: "Read: +15 V, DC" }));
  await read("9");

  await waitFor(() => expect(screen.queryAllByRole("status", { hidden: true })).toHaveLength(more));
  expect(notices().some((notice) => notice.text.includes("Outside its limits"))).toBe(more === 0);
});

test("a cell read before is corrected with a reason, and what stood there stays to be seen", async () => {
  const first = entryOf("rails/r1/dc", "reading", {
    value: { value_text: "51", quantity: "voltage_dc" },
    verdict: "fail",
  });
  const saved = work({}, first);
  await fireEvent.click(screen.getByRole("button", { name: /\+15 V,.*DC/s }));

  await fireEvent.input(within(dialog()).getByLabelText("Reason"), { target: { value: "slip" } });
  await read("15.1");

  await waitFor(() => expect(saved).toHaveLength(1));
  expect([saved[0]?.replaces, saved[0]?.reason]).toEqual([first.id, "slip"]);
  const cell = screen.getByRole("button", { name: /\+15 V,.*DC/s });
  expect(within(cell).getByText("51 V").tagName).toBe("S");
  await fireEvent.click(cell);
  expect(within(dialog()).getByText(/because: slip/)).toBeTruthy();
});
