import { expect, test } from "vitest";
import type { ShelfRow } from "$lib/api/template-shapes";
import { fitting, waitingForReview } from "../../../src/pages/templates/shelf";
import { freeSlug, slugOf } from "../../../src/pages/templates/slug";

const row = (given: Partial<ShelfRow>) =>
  ({ slug: "fan", title: "Replace the fan", summary: "", drafts: [], ...given }) as ShelfRow;

test("a short name is made of the words of a title", () => {
  expect(slugOf("Lüfter ersetzen, 80 mm (groß)")).toBe("lufter-ersetzen-80-mm-gross");
  expect(slugOf("x".repeat(80))).toHaveLength(60);
});

test("a short name that is taken, and one of no letters at all, get a number or a word", () => {
  expect(freeSlug("Replace the fan", ["replace-the-fan", "replace-the-fan-2"])).toBe("replace-the-fan-3");
  expect(freeSlug("修理", [])).toBe("job");
});

test("the shelf is searched by all the words typed", () => {
  const rows = [row({}), row({ slug: "cell", title: "Backup cell", summary: "Fan not touched" })];

  expect(fitting(rows, "FAN repl").map((one) => one.slug)).toEqual(["fan"]);
  expect(fitting(rows, "")).toHaveLength(2);
});

test("only drafts submitted for it wait for a second look", () => {
  const draft = (stage: string) => ({ stage }) as never;

  expect(waitingForReview([row({ drafts: [draft("in_review"), draft("draft")] }), row({})])).toBe(1);
});
