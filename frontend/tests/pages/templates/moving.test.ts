import { expect, test } from "vitest";
import { isBlock, type Path, type StepEntry, type TemplateBody } from "$lib/templates/body";
import { moveStep } from "$lib/templates/edit";
import { placeAbove, placeBelow, placeDropped } from "../../../src/pages/templates/moving";

const step = (id: string): StepEntry => ({ id, kind: "note", title: id });
const block = (...ids: string[]): StepEntry => ({
  repeat: { over: "sheet.rails", as: "rail", max: 4 },
  steps: ids.map(step) as never,
});
const bodyOf = (...steps: StepEntry[]) => ({ steps }) as TemplateBody;
const order = (body: TemplateBody) =>
  body.steps.map((one) => (isBlock(one) ? `(${one.steps.map(({ id }) => id).join(" ")})` : one.id)).join(" ");
function moved(body: TemplateBody, from: Path, to: Path | null): string {
  return to ? order(moveStep(body, from, to).body) : "stays";
}

test("a step goes up past its neighbour, into a block from below and out of it above", () => {
  const body = bodyOf(step("a"), block("x", "y"), step("b"));

  expect(moved(body, ["steps", 2], placeAbove(body, ["steps", 2]))).toBe("a (x y b)");
  expect(moved(body, ["steps", 1, "steps", 1], placeAbove(body, ["steps", 1, "steps", 1]))).toBe("a (y x) b");
  expect(moved(body, ["steps", 1, "steps", 0], placeAbove(body, ["steps", 1, "steps", 0]))).toBe("a x (y) b");
  expect(moved(body, ["steps", 0], placeAbove(body, ["steps", 0]))).toBe("stays");
});

test("a step goes down past its neighbour, into a block from above and out of it below", () => {
  const body = bodyOf(step("a"), block("x", "y"), step("b"));

  expect(moved(body, ["steps", 0], placeBelow(body, ["steps", 0]))).toBe("(a x y) b");
  expect(moved(body, ["steps", 1, "steps", 0], placeBelow(body, ["steps", 1, "steps", 0]))).toBe("a (y x) b");
  expect(moved(body, ["steps", 1, "steps", 1], placeBelow(body, ["steps", 1, "steps", 1]))).toBe("a (x) y b");
  expect(moved(body, ["steps", 2], placeBelow(body, ["steps", 2]))).toBe("stays");
});

test("a block passes another and goes into none", () => {
  const body = bodyOf(block("x"), block("y"));

  expect(moved(body, ["steps", 0], placeBelow(body, ["steps", 0]))).toBe("(y) (x)");
  expect(placeDropped(body, ["steps", 0], ["steps", 1, "steps", 0], "upper")).toBeNull();
});

test("a step dropped on the lower half of a block's row is its first", () => {
  const body = bodyOf(step("a"), block("x", "y"), step("b"));

  expect(moved(body, ["steps", 2], placeDropped(body, ["steps", 2], ["steps", 1], "lower"))).toBe(
    "a (b x y)",
  );
  expect(moved(body, ["steps", 2], placeDropped(body, ["steps", 2], ["steps", 0], "upper"))).toBe(
    "b a (x y)",
  );
});

test("a step dropped where it stands changes nothing", () => {
  const body = bodyOf(step("a"), step("b"));

  expect(placeDropped(body, ["steps", 0], ["steps", 0], "upper")).toBeNull();
  expect(placeDropped(body, ["steps", 0], ["steps", 1], "upper")).toBeNull();
});
