import { expect, test } from "vitest";
import { areasOf, searchedIn, searchHash } from "../../../src/pages/calculators/list";
import { found, indexOf } from "../../../src/pages/calculators/search";
import { calculator } from "../../stand-ins/calculators";

const one = (name: string, title: string, question: string, words = "") =>
  calculator({ name, title, question, words, area: { key: name.split(".")[0] ?? "", title: "Area" } });
const rows = [
  one("fuses.bands", "Colour bands of a fuse", "Which fuse has these colours?"),
  one("fuses.scale", "Fuse for another supply", "Which fuse is right now?", "230 115 conversion"),
  one("lamps.choose", "Choose the first lamp", "Which lamp do I begin with?", "bulb tester AA"),
  one("caps.mark", "Mark on a capacitor", "What value does it give?", "473K"),
];
const index = indexOf(rows);
const names = (typed: string) => found(index, typed).map((row) => row.name);

test("the list stands by area, in the server's order", () => {
  expect(areasOf(rows).map((area) => [area.key, area.rows.length])).toEqual([
    ["fuses", 2],
    ["lamps", 1],
    ["caps", 1],
  ]);
});

test("a calculator is found by what techs call it, with figures and words that nobody has beside it", () => {
  expect(names("which dim BULB for a 40 W amplifier")).toEqual(["lamps.choose"]);
  expect(names("conversion")).toEqual(["fuses.scale"]);
});

test("what holds the rarer words comes first, and what holds little of it is left out", () => {
  expect(names("fuse")).toEqual(["fuses.bands", "fuses.scale"]);
  expect(names("which fuse 230V to 115")[0]).toBe("fuses.scale");
  expect(names("fuse colour bands")).toEqual(["fuses.bands"]);
});

test("another ending or a slip at the end of a long word does not matter", () => {
  expect(names("capaciters")).toEqual(["caps.mark"]);
  expect(names("bulbs")).toEqual(["lamps.choose"]);
});

test("a figure or a word of two letters is meant as it stands", () => {
  expect(names("473k")).toEqual(["caps.mark"]);
  expect(names("47")).toEqual([]);
  expect(names("aa")).toEqual(["lamps.choose"]);
  expect(names("bu")).toEqual([]);
});

test("nothing is found for words that no calculator has", () => {
  for (const typed of ["tea", "??", "which is it for me", "0.9", "x"]) expect(names(typed)).toEqual([]);
});

test("the titles of fields are searched, also in a list that an older build kept", () => {
  const [kept] = indexOf([{ ...calculator(), words: undefined }] as never);
  expect(found(kept ? [kept] : [], "marking frequencies")).toHaveLength(1);
});

test("what was searched for comes back from the address; what is no search brings none", () => {
  for (const typed of ["", "fuse 100 % ü", "#1"]) expect(searchedIn(searchHash(typed))).toBe(typed);
  expect(searchedIn("#%")).toBe("");
});
