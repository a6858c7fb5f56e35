import { afterEach, expect, test, vi } from "vitest";
import type { Meter } from "$lib/api/work-shapes";
import { firstChoice, rememberMeter, stateOn, usableMeters } from "$lib/worksheet/meters";

const meter = (id: string, due_on: string | null, quantity = "voltage_dc"): Meter => {
  const accuracy = [{ quantity, percent: 1, counts: 0, resolution: 0 }];
  return { id, code: id, name: id, kinds: ["multimeter"], state: "ok", due_on, accuracy };
};
const late = meter("late", "2020-01-31");
const unknown = meter("unknown", null);
const good = meter("good", "2999-01-01");

afterEach(() => vi.restoreAllMocks());

test("a meter is overdue the day after it was due, whatever its pack said when it was made", () => {
  expect(stateOn(late, "2020-01-31")).toBe("ok");
  expect(stateOn(late, "2020-02-01")).toBe("overdue");
  expect(stateOn(unknown, "2020-02-01")).toBe("unknown");
});

test("overdue meters come last, those that cannot read the quantity not at all", () => {
  const other = meter("other", null, "resistance");

  const found = usableMeters([late, other, unknown, good], undefined, "voltage_dc");

  expect(found.map((one) => one.id)).toEqual(["good", "unknown", "late"]);
});

test("the meter used last comes first again, unless its calibration is overdue by now", () => {
  expect(firstChoice([good, unknown, late], "unknown", false)).toBe("unknown");
  expect(firstChoice([good, unknown, late], "late", false)).toBe("good");
});

test("an overdue meter is what to begin with only where nothing else is there and the shop allows it", () => {
  expect(firstChoice([late], undefined, false)).toBe("late");
  expect(firstChoice([late], "late", true)).toBe("");
});

test("on a full phone the meter is forgotten; any other trouble is told", async () => {
  const putting = vi.spyOn(IDBObjectStore.prototype, "put");

  putting.mockImplementation(() => {
    throw new DOMException("no room", "QuotaExceededError");
  });
  await expect(rememberMeter("voltage_dc", "good")).resolves.toBeUndefined();
  putting.mockImplementation(() => {
    throw new DOMException("gone", "InvalidStateError");
  });
  await expect(rememberMeter("voltage_dc", "good")).rejects.toThrow("gone");
});
