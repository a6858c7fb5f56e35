import { fireEvent, render, screen } from "@testing-library/svelte";
import { expect, test, vi } from "vitest";
import type { Pack } from "$lib/api/work-shapes";
import { worksheetState } from "$lib/worksheet/state";
import StepList from "../../../src/pages/bench/parts/StepList.svelte";
import { stepOf } from "../../stand-ins/worksheet";

const steps = Array.from({ length: 100 }, (_, n) => stepOf(`step ${String(n)}`, "note"));
const state = worksheetState({ steps } as Pack, []);

test("of a long list the rows around the current step come first, and soon all of them", async () => {
  const onshow = vi.fn();
  render(StepList, { props: { state, current: "step 50", onshow } });

  expect(screen.getByRole("button", { current: "step" }).textContent).toContain("step 50");
  expect(screen.queryByText("step 99")).toBeNull();
  await fireEvent.click(await screen.findByText("step 99", {}, { timeout: 4000 }));

  expect(onshow).toHaveBeenCalledWith("step 99");
});
