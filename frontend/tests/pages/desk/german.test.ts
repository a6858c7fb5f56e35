import { describe, expect, it } from "vitest";
import de from "$lib/words/de.json";
import deDesk from "$lib/words/de.desk.json";
import deManager from "$lib/words/de.manager.json";
import en from "$lib/words/en.json";
import enBench from "$lib/words/en.bench.json";
import enDesk from "$lib/words/en.desk.json";
import enManager from "$lib/words/en.manager.json";

const holes = (sentence: string) => (sentence.match(/\{\w+\}/g) ?? []).sort();

describe("the German words begun", () => {
  it.each([
    ["the desk", deDesk, enDesk],
    ["the manager", deManager, enManager],
    ["everybody and the bench", de, { ...en, ...enBench }],
  ])("of %s have keys and blanks of the English ones", (_who, german, english) => {
    const known: Record<string, string> = english;
    for (const [key, sentence] of Object.entries(german)) {
      expect(known, key).toHaveProperty([key]);
      expect(holes(sentence), key).toEqual(holes(known[key] ?? ""));
    }
  });
});
