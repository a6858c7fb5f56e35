import { fireEvent, render, screen } from "@testing-library/svelte";
import { expect, test } from "vitest";
import type { ReadingValue } from "$lib/api/work-shapes";
import BandGauge from "$lib/components/BandGauge.svelte";
import { gaugeOf } from "$lib/components/gauge";
import HazardBanner from "$lib/components/HazardBanner.svelte";
import ReadingInput from "$lib/components/ReadingInput.svelte";
import Verdict from "$lib/components/Verdict.svelte";
import WindingDrawing from "$lib/components/WindingDrawing.svelte";
import Working from "$lib/components/Working.svelte";
import { readDraft } from "$lib/db/drafts";

const meter = {
  id: "m1",
  code: "M0000001",
  name: "Blue meter",
  kinds: ["multimeter"],
  state: "ok" as const,
  due_on: null,
  accuracy: [{ quantity: "current_ac", percent: 1, counts: 0, resolution: 0.001 }],
};
function current(saved: { value: ReadingValue; verdict: string }[] = []) {
  return {
    label: "Mains current",
    quantity: "current_ac" as const,
    limits: { low: 0.1, high: 0.2 },
    rule: "guarded" as const,
    meters: [meter],
    draft: `reading/test/${String(Math.random())}`,
    judged: true,
    onsave: (value: ReadingValue, verdict: string) => {
      saved.push({ value, verdict });
      return Promise.resolve();
    },
  };
}

test.each(["pass", "fail", "borderline", "meter_not_good_enough"])(
  "a verdict of %s is told in words",
  (verdict) => {
    render(Verdict, { verdict });

    expect(screen.getByText(/pass|fail|too close to call|meter not good enough/)).toBeTruthy();
  },
);

test("a missing verdict says that it was not judged", () => {
  render(Verdict, { verdict: null });

  expect(screen.getByText("not judged")).toBeTruthy();
});

test("a gauge says its limits in words and writes the value beside its needle", () => {
  const { container } = render(BandGauge, { low: 0.1, high: 0.2, unit: "A", value: 0.16, guard: 0.002 });

  expect(screen.getByText(/Limits 100 mA to 200 mA/)).toBeTruthy();
  expect(container.querySelector("text.value")?.textContent).toBe("160 mA");
  expect(container.querySelectorAll("rect.guard")).toHaveLength(2);
});

test("a value beyond the scale stays on the gauge and says on which side it went out", () => {
  const gauge = gaugeOf({ low: 1, high: 2, value: 50, guard: null });

  expect([gauge.off, gauge.needle]).toEqual(["high", 100]);
});

test("hazards stand in a region of their own", () => {
  render(HazardBanner, { hazards: [{ key: "live_chassis", text: "live chassis" }] });

  expect(screen.getByRole("region", { name: "Hazards of this unit" }).textContent).toContain("live chassis");
});

test("a drawing of windings says in words what it shows, and what of several it is", () => {
  const drawing = {
    ...{ title: "Joined: P2–P3; line to P1, neutral to P4.", width: 320, height: 100, text_height: 11 },
    lines: [{ x1: 0, y1: 10, x2: 20, y2: 10, kind: "unused" }],
    coils: [{ path: "M 0 0 h 10", kind: "winding" }],
    dots: [{ x: 5, y: 5, radius: 3, kind: "terminal" }],
    labels: [{ x: 0, y: 20, text: "P1", anchor: "start", kind: "terminal" }],
  };
  render(WindingDrawing, { drawing, name: "drawing_now" });

  const picture = screen.getByRole("img", { name: /Joined: P2–P3/ });
  expect(picture.getAttribute("viewBox")).toBe("0 0 24 100");
  expect(picture.querySelector("text")?.textContent).toBe("P1");
  expect(picture.closest("figure")?.textContent).toContain("As found");
});

test("a working names each source with how far it can be trusted", () => {
  const sources = [{ text: "IEC 60127-2", status: "second_hand", at: "clause 9" }];
  render(Working, {
    working: {
      lines: [{ label: "Fuse", formula: "a × b", result: "160 mA" }],
      sources,
      cautions: [],
      disagreements: [],
    },
  });

  expect(screen.getByText(/IEC 60127-2/).textContent).toContain("second-hand");
});

test("a reading typed on the keys is shown in full, judged at once, and saved with its limits and meter", async () => {
  const saved: { value: ReadingValue; verdict: string }[] = [];
  render(ReadingInput, current(saved));
  for (const key of ["1", "6", "0", "m"]) await fireEvent.click(screen.getByRole("button", { name: key }));

  expect(screen.getByText("160 mA = 0.16 A")).toBeTruthy();
  expect(screen.getByText("pass")).toBeTruthy();

  await fireEvent.click(screen.getByRole("button", { name: "Save reading" }));
  await expect.poll(() => saved.length).toBe(1);
  expect(saved[0]?.value).toMatchObject({
    as_typed: "160m",
    value_text: "0.16",
    meter: "m1",
    low: 0.1,
    high: 0.2,
  });
  expect(saved[0]?.value.expanded_uncertainty).toBeGreaterThan(0);
});

test("an ambiguous value is refused with the reason and cannot be saved", async () => {
  render(ReadingInput, current());

  await fireEvent.input(screen.getByLabelText("Mains current"), { target: { value: "1,234" } });

  expect(screen.getByText(/mean thousands/)).toBeTruthy();
  expect(screen.getByRole("button", { name: "Save reading" }).hasAttribute("disabled")).toBe(true);
});

test("what is typed and not yet saved survives the page", async () => {
  const props = current();
  const first = render(ReadingInput, props);
  await fireEvent.input(screen.getByLabelText("Mains current"), { target: { value: "15" } });
  await expect.poll(() => readDraft(props.draft)).toBe("15");
  first.unmount();

  render(ReadingInput, props);

  await expect.poll(() => screen.getByLabelText<HTMLInputElement>("Mains current").value).toBe("15");
});
