import { readFileSync } from "node:fs";
import { beforeEach, expect, test, vi } from "vitest";
import { nextGround, THEMES, useTheme } from "$lib/session/theme.svelte";

const shownGround = () => document.documentElement.dataset["theme"];

beforeEach(() => {
  vi.stubGlobal("matchMedia", () => ({ matches: true }));
});

test.each(THEMES)("the ground %s is there before the app is", (theme) => {
  useTheme(theme);
  const byTheApp = shownGround();
  delete document.documentElement.dataset["theme"];

  window.eval(readFileSync("public/ground.js", "utf8"));

  expect(shownGround()).toBe(byTheApp);
});

test("taps lead from a dark device to paper, to high contrast, to charcoal and round again", () => {
  useTheme("auto");

  const led = [1, 2, 3, 4].map(() => {
    useTheme(nextGround());
    return shownGround();
  });

  expect(led).toEqual(["light", "contrast", "dark", "light"]);
});

test("a ground that nobody knows is the device's own", () => {
  useTheme("plaid");

  expect(shownGround()).toBeUndefined();
});
