import { expect, test, vi } from "vitest";
import { isMovedItself, onSwipe, wayOf } from "$lib/device/swipe";

const from = (fromX: number, toX: number, more = {}) =>
  wayOf({ fromX, fromY: 400, toX, toY: 404, took: 200, width: 390, ...more });

test("a quick stroke to the left or right is a swipe that way", () => {
  expect([from(300, 180), from(100, 220)]).toEqual(["left", "right"]);
});

test("a stroke upwards is told from one aside", () => {
  expect(from(200, 204, { toY: 320 })).toBe("up");
});

test.each([
  ["from the left edge, which is the browser's way back", 10, 200, {}],
  ["from the right edge", 385, 100, {}],
  ["too short", 200, 160, {}],
  ["too slow: somebody reads and moves a finger", 300, 100, { took: 1500 }],
  ["aslant, as when scrolling", 300, 220, { toY: 340 }],
])("a stroke %s is no swipe", (_what, fromX, toX, more) => {
  expect(from(fromX, toX, more)).toBeNull();
});

function touch(node: Element, name: string, x: number, more = {}) {
  const event = new MouseEvent(name, { bubbles: true, clientX: x, clientY: 100 });
  Object.assign(event, { pointerId: 1, pointerType: "touch", isPrimary: true, ...more });
  node.dispatchEvent(event);
}
function swiped(inner: Element, more = {}) {
  const node = document.createElement("div");
  node.append(inner);
  document.body.replaceChildren(node);
  const onway = vi.fn();
  const stop = onSwipe(node, onway);
  touch(inner, "pointerdown", 500, more);
  touch(inner, "pointerup", 300, more);
  stop();
  return onway;
}

test("a finger swipes, a mouse that marks text does not", () => {
  expect(swiped(document.createElement("p"))).toHaveBeenCalledWith("left");
  expect(swiped(document.createElement("p"), { pointerType: "mouse" })).not.toHaveBeenCalled();
});

test("a stroke that begins in typed text belongs to the text", () => {
  expect(swiped(document.createElement("input"))).not.toHaveBeenCalled();
});

test("a stroke on something scrolled sideways scrolls it", () => {
  const node = document.createElement("div");
  const wide = document.createElement("div");
  wide.style.overflowX = "auto";
  Object.defineProperties(wide, { scrollWidth: { value: 600 }, clientWidth: { value: 300 } });
  const cell = document.createElement("span");
  wide.append(cell);
  node.append(wide);

  expect(isMovedItself(cell, node)).toBe(true);
});
