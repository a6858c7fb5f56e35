import { expect, test } from "vitest";
import type { Person } from "$lib/api/shapes";
import { mentionsIn, offers, typingAt, withName } from "$lib/bench/mentions";

const person = (id: string, name: string): Person => ({ id, name, role: "tech" });
const people = [person("a", "Anna Lot"), person("b", "Ben"), person("bl", "Ben Litze"), person("z", "Zoë")];
const names = (found: Person[]) => found.map((one) => one.name);

test.each([
  ["@Be", 3, { start: 0, typed: "Be" }],
  ["Ask @", 5, { start: 4, typed: "" }],
  ["Ask @Ben Li", 11, { start: 4, typed: "Ben Li" }],
  ["(@An", 4, { start: 1, typed: "An" }],
  ["Ask @Ben", 2, null],
  ["otter@mail", 10, null],
  ["@Ben\nthe hum", 12, null],
  ["no name", 7, null],
])("in %j at %i the name being typed is %j", (text, caret, wanted) => {
  expect(typingAt(text, caret)).toEqual(wanted);
});

test("names are offered by how any of their parts begins, in small letters too", () => {
  expect(names(offers(people, ""))).toEqual(["Anna Lot", "Ben", "Ben Litze", "Zoë"]);
  expect(names(offers(people, "li"))).toEqual(["Ben Litze"]);
  expect(names(offers(people, "ZO"))).toEqual(["Zoë"]);
  expect(names(offers(people, "Cleo"))).toEqual([]);
});

test("a name that stands there whole is not offered again", () => {
  expect(names(offers(people, "Anna Lot "))).toEqual([]);
  expect(names(offers(people, "Ben"))).toEqual(["Ben Litze"]);
});

test("a chosen name takes the place of what was typed of it, and the text goes on behind it", () => {
  const text = "Ask @be about the hum";

  expect(withName(text, { start: 4, typed: "be" }, "Ben Litze")).toEqual({
    text: "Ask @Ben Litze about the hum",
    caret: 15,
  });
});

test.each([
  ["@Ben look", ["b"]],
  ["@Ben Litze look", ["bl"]],
  ["@Ben Litze and @Anna Lot, @Anna Lot!", ["bl", "a"]],
  ["@Zoë?", ["z"]],
  ["@Benny, mail@Ben, @Cleo", []],
  ["nobody", []],
])("%j names %j", (text, wanted) => {
  expect(mentionsIn(text, people)).toEqual(wanted);
});
