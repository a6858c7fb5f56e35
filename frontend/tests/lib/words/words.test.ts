import { readdirSync, readFileSync } from "node:fs";
import { afterEach, expect, test } from "vitest";
import { addWords, currentLanguage, t, tn, useLanguage, wordsArrived, type WordKey } from "$lib/words";

const FOLDER = "src/lib/words";
type Words = Record<string, string>;
const read = (name: string) => JSON.parse(readFileSync(`${FOLDER}/${name}`, "utf8")) as Words;
const filesOf = (language: string) =>
  readdirSync(FOLDER).filter((name) => name.startsWith(`${language}.`) && name.endsWith(".json"));
const named = (sentence: string) => [...sentence.matchAll(/\{(\w+)\}/g)].map((found) => found[1]).sort();

afterEach(() => useLanguage("en"));

test("every English file has a German one", () => {
  expect(filesOf("de")).toEqual(filesOf("en").map((name) => name.replace(/^en/, "de")));
});

test.each(filesOf("en"))(
  "the German of %s says every sentence of it and fills in the same values",
  (name) => {
    const [theirs, ours] = [read(name), read(name.replace(/^en/, "de"))];

    expect(Object.keys(ours).sort()).toEqual(Object.keys(theirs).sort());
    for (const [key, sentence] of Object.entries(ours)) {
      expect(named(sentence), key).toEqual(named(theirs[key] ?? ""));
      expect(sentence.trim(), key).not.toBe("");
    }
  },
);

test.each([...filesOf("en"), ...filesOf("de")])("every counted sentence of %s has all its forms", (name) => {
  const keys = Object.keys(read(name));
  const forms = new Intl.PluralRules(name.slice(0, 2)).resolvedOptions().pluralCategories;

  for (const key of keys.filter((one) => one.endsWith(".one")))
    for (const form of forms) expect(keys).toContain(key.replace(/one$/, form));
});

test("every German file is fetched by the code, none only lies there", () => {
  const sources = readdirSync(FOLDER).filter((name) => name.endsWith(".ts"));
  const code = sources.map((name) => readFileSync(`${FOLDER}/${name}`, "utf8")).join("");

  for (const name of filesOf("de")) expect(code).toContain(`import("./${name}")`);
});

test("a sentence not yet translated stays English, the others change", async () => {
  addWords({ "only.english": "Not in German" }, {});

  await useLanguage("de");

  expect(t("app.save")).toBe("Speichern");
  expect(t("only.english" as WordKey)).toBe("Not in German");
  expect(tn("unsent", 2)).toBe("2 nicht gesendet");
});

test("a screen that comes later speaks the language chosen before", async () => {
  await useLanguage("de");

  addWords(
    { "late.hello": "Hello" },
    { de: [() => Promise.resolve({ default: { "late.hello": "Hallo" } })] },
  );
  await wordsArrived();

  expect(t("late.hello" as WordKey)).toBe("Hallo");
});

test("German that comes with a later screen is not fetched while English is spoken", async () => {
  let fetched = 0;
  const german = () => {
    fetched += 1;
    return Promise.resolve({ default: { "quiet.hello": "Hallo" } });
  };

  addWords({ "quiet.hello": "Hello" }, { de: [german] });
  await wordsArrived();

  expect(fetched).toBe(0);
  expect(t("quiet.hello" as WordKey)).toBe("Hello");
});

test("words that cannot be fetched leave the screen English", async () => {
  const lost = () => Promise.reject(new Error("no network"));
  addWords({ "lost.hello": "Hello" }, { de: [lost] });

  await useLanguage("de");

  expect(t("lost.hello" as WordKey)).toBe("Hello");
  expect(t("app.save")).toBe("Speichern");
});

test("of two languages chosen one after the other the last one stays", async () => {
  const first = useLanguage("de");
  const second = useLanguage("en");
  await Promise.all([first, second]);

  expect(currentLanguage()).toBe("en");
  expect(t("app.save")).toBe("Save");
});
