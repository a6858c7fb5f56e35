import fc from "fast-check";
import { expect, test } from "vitest";
import { hasStrayBrace, placeholdersIn, withPaths, withText } from "$lib/templates/sentences";
import { shownText, wholeMarks, writtenText } from "$lib/templates/shown-text";
import type { Known } from "$lib/templates/sources";
import "$lib/words/editor";

const known: Known[] = [
  one("unit.code", "Code", "Unit", "text"),
  one("sheet.idle_watt", "Idle power", "Model sheet", "number", "power"),
  one("work.fuse.value.mark", "Mark", "The line fuse", "text"),
  one("sheet.rails", "Rails", "Model sheet", "list"),
];

function one(
  path: string,
  title: string,
  group: string,
  type: Known["type"],
  quantity: string | null = null,
): Known {
  return { path, title, group, type, quantity, unit: null, choices: [], rows: [] };
}

test("a placeholder is read by its title, and written as it was", () => {
  const text = "Tag {unit.code}, {sheet.idle_watt|power}, {sheet.idle_watt}, {work.gone.text}.";

  const shown = shownText(text, known);

  expect(shown).toBe(
    "Tag «Unit: Code», «Model sheet: Idle power», «Model sheet: Idle power (2)», «work.gone.text».",
  );
  expect(writtenText(shown, text, known)).toBe(text);
});

test("whatever stands around them, values come back as they were written", () => {
  const part = fc.oneof(
    fc.constantFrom(
      "{unit.code}",
      "{sheet.idle_watt|power}",
      "{sheet.idle_watt|plain}",
      "{work.gone.value.x|list}",
    ),
    fc.constantFrom("a", " ", "\n", "{{", "}}", "Ω", ". "),
  );
  fc.assert(
    fc.property(fc.array(part), (parts) => {
      const text = parts.join("");

      expect(writtenText(shownText(text, known), text, known)).toBe(text);
    }),
  );
});

test("a title that is put in is written as its path, with its quantity or as a list", () => {
  const typed =
    "Fuse «The line fuse: Mark», idle «Model sheet: Idle power», rails «Model sheet: Rails», «nothing».";

  expect(writtenText(typed, "", known)).toBe(
    "Fuse {work.fuse.value.mark}, idle {sheet.idle_watt|power}, rails {sheet.rails|list}, «nothing».",
  );
});

test("a selection that touches a value takes all of it, one beside it takes none", () => {
  const shown = "Tag «Unit: Code» on it";

  expect(wholeMarks(shown, 8, 8)).toEqual([4, 16]);
  expect(wholeMarks(shown, 0, 5)).toEqual([0, 16]);
  expect(wholeMarks(shown, 4, 4)).toEqual([4, 4]);
  expect(wholeMarks(shown, 16, 16)).toEqual([16, 16]);
});

test("a single brace is noticed; doubled ones and values are not", () => {
  expect(hasStrayBrace("a { b")).toBe(true);
  expect(hasStrayBrace("{Unit}")).toBe(true);
  expect(hasStrayBrace("a {{ b }} {unit.code|plain}")).toBe(false);
});

test("paths are changed in every language, braces that are meant as such are not", () => {
  const sentence = { en: "{{x}} {unit.code} {asked.watt|power}", de: "{asked.watt|power}" };

  expect(withPaths(sentence, (path) => path.replace("watt", "volt"))).toEqual({
    en: "{{x}} {unit.code} {asked.volt|power}",
    de: "{asked.volt|power}",
  });
  expect(placeholdersIn("{{a}} {b.c|list}")).toEqual([{ written: "{b.c|list}", path: "b.c", style: "list" }]);
});

test("a second language makes a sentence per language; emptied again only English is left", () => {
  const both = withText("Off", "de", "Aus");

  expect(both).toEqual({ en: "Off", de: "Aus" });
  expect(withText(both, "de", "")).toEqual({ en: "Off" });
});
