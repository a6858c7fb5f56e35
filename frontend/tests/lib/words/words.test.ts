import { readdirSync, readFileSync } from "node:fs";
import { afterEach, expect, test } from "vitest";
import { t, tn, useLanguage } from "$lib/words";

const FOLDER = "src/lib/words";
const read = (name: string) =>
  JSON.parse(readFileSync(`${FOLDER}/${name}`, "utf8")) as Record<string, string>;
const english: Record<string, string> = Object.assign(
  {},
  ...readdirSync(FOLDER)
    .filter((name) => /^en(\..+)?\.json$/.test(name))
    .map(read),
) as Record<string, string>;
const named = (sentence: string) => [...sentence.matchAll(/\{(\w+)\}/g)].map((found) => found[1]).sort();

afterEach(() => useLanguage("en"));

test("every German sentence has an English one and fills in the same values", () => {
  for (const [key, sentence] of Object.entries(read("de.json"))) {
    expect(english[key], key).toBeDefined();
    expect(named(sentence), key).toEqual(named(english[key] ?? ""));
  }
});

test("every counted sentence has a form for one and a form for many", () => {
  for (const key of Object.keys(english).filter((one) => one.endsWith(".one"))) {
    expect(english[key.replace(/\.one$/, ".other")], key).toBeDefined();
  }
});

test("a sentence not yet translated stays English, the others change", async () => {
  await useLanguage("de");

  expect(t("app.save")).toBe("Speichern");
  expect(t("app.new_version")).toBe(english["app.new_version"]);
  expect(tn("unsent", 2)).toBe("2 nicht gesendet");
});
