import { expect, test } from "vitest";
import { actOf, beginsReading } from "$lib/worksheet/keys";

const press = (key: string, more: object = {}) => ({
  ...{ key, ctrlKey: false, metaKey: false, altKey: false, defaultPrevented: false },
  target: document.body as EventTarget,
  ...more,
});
const field = document.createElement("input");

test.each([
  ["n", "next"],
  ["ArrowRight", "next"],
  ["p", "before"],
  ["ArrowLeft", "before"],
  ["l", "list"],
  ["u", "undo"],
  ["?", "help"],
])("%s asks for %s", (key, act) => {
  expect(actOf(press(key))).toBe(act);
});

test("in a field n is nano and an arrow moves the cursor; only the page keys change the step", () => {
  expect(actOf(press("n", { target: field }))).toBeNull();
  expect(actOf(press("ArrowLeft", { target: field }))).toBeNull();
  expect(actOf(press("PageDown", { target: field }))).toBe("next");
});

test("what the browser's own keys ask for stays the browser's", () => {
  expect(actOf(press("p", { ctrlKey: true }))).toBeNull();
  expect(actOf(press("ArrowLeft", { altKey: true }))).toBeNull();
});

test("a digit begins a reading where no cursor is", () => {
  expect([beginsReading(press("4")), beginsReading(press("k"))]).toEqual([true, false]);
  expect(beginsReading(press("4", { target: field }))).toBe(false);
});
