// Contrast of text and of shapes on every ground, as WCAG 2.2 reckons it (criteria 1.4.3 and 1.4.11; "relative
// luminance" and "contrast ratio" of its glossary, https://www.w3.org/TR/WCAG22/).
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";

const css = readFileSync("src/styles/tokens.css", "utf8").replace(/\/\*.*?\*\//gs, "");
type Tokens = Record<string, string>;

/** The tokens that the first rule with this selector sets. */
function tokensOf(selector: string): Tokens {
  const rule = css.slice(css.indexOf(`${selector} {`)).split("}")[0] ?? "";
  return Object.fromEntries(
    [...rule.matchAll(/--([\w-]+):\s*([^;]+);/g)].map((found) => [found[1] ?? "", found[2] ?? ""]),
  );
}

const base = tokensOf(":root");
/** One half of each `light-dark(…)`. */
const half = (tokens: Tokens, which: 0 | 1): Tokens =>
  Object.fromEntries(
    Object.entries(tokens).map(([name, value]) => {
      const both = /^light-dark\((#\w+), (#\w+)\)$/.exec(value);
      return [name, both?.[which + 1] ?? value];
    }),
  );
const more = tokensOf(":root:not([data-theme])");
const GROUNDS: Record<string, Tokens> = {
  paper: half(base, 0),
  charcoal: half(base, 1),
  contrast: { ...half(base, 1), ...tokensOf(':root[data-theme="contrast"]') },
  "paper, more contrast asked": half({ ...base, ...more }, 0),
  "charcoal, more contrast asked": half({ ...base, ...more }, 1),
  print: { ...half(base, 0), ...tokensOf(":root:root") },
};

function luminance(hex: string): number {
  const digits = hex.length === 4 ? hex.replace(/\w/g, "$&$&") : hex;
  const linear = [1, 3, 5].map((at) => {
    const part = parseInt(digits.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * linear[0]! + 0.7152 * linear[1]! + 0.0722 * linear[2]!;
}

function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const TEXT = ["ink", "ink-2", "amber-ink", "pass", "fail", "near"];
const BEHIND = ["ground", "sheet", "raised"];
const TEXT_PAIRS = [
  ...TEXT.flatMap((text) => BEHIND.map((behind) => [text, behind] as const)),
  ["on-amber", "amber"] as const,
  ["hazard-ink", "hazard-ground"] as const,
  // Notices are written the other way round.
  ["ground", "ink"] as const,
];
/** Edges of fields, marks of verdicts, what has the focus. A main button is told by its words. */
const SHAPE_PAIRS = ["rule", "amber-ink", "pass", "fail", "near"].flatMap((shape) =>
  ["ground", "sheet"].map((behind) => [shape, behind] as const),
);

test("the formula gives the two figures everybody knows: 21 for black on white, 4.54 for #767676", () => {
  expect(contrast("#000", "#fff")).toBe(21);
  expect(contrast("#767676", "#ffffff")).toBeCloseTo(4.54, 2);
});

describe.each(Object.entries(GROUNDS))("on %s", (_name, tokens) => {
  const of = (name: string) => tokens[name] ?? "";

  test.each(TEXT_PAIRS)("%s is read on %s", (text, behind) => {
    expect(of(text)).toMatch(/^#/);
    expect(contrast(of(text), of(behind))).toBeGreaterThanOrEqual(4.5);
  });

  test.each(SHAPE_PAIRS)("%s is seen on %s", (shape, behind) => {
    expect(contrast(of(shape), of(behind))).toBeGreaterThanOrEqual(3);
  });
});
