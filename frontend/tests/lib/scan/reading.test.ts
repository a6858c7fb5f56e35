import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ALPHABET, checkCharacter } from "$lib/calc/codes";
import { likelySlips, readScanned } from "$lib/scan/reading";

describe("what a scanned text is", () => {
  it("takes a bare code and the address of a unit for the same", () => {
    const code = { kind: "own", code: { kind: "unit", text: "NR7Q2K9A" } };

    expect(readScanned("NR7Q2K9A")).toEqual(code);
    expect(readScanned("https://shop.example/app/t/NR7Q2K9A")).toEqual(code);
  });
  it("tells a damaged code of ours from those of others", () => {
    expect(readScanned("NR7Q2K9B")).toEqual({ kind: "torn", text: "NR7Q2K9B" });
  });
  it("names the host of somebody else's web address", () => {
    expect(readScanned("https://elsewhere.example/offer?x=1")).toEqual({
      kind: "address",
      host: "elsewhere.example",
    });
  });
  it.each(["4006381333931", "SN 104-220/B", "NR7Q2K9"])(
    "takes %s for an article or serial number",
    (text) => {
      expect(readScanned(text)).toEqual({ kind: "number", text });
    },
  );
  it.each(["", "WIFI:T:WPA;S:guest;;", "hello"])("takes %j for something else", (text) => {
    expect(readScanned(text).kind).toBe("other");
  });
  it("never throws, whatever stands there", () => {
    fc.assert(fc.property(fc.string(), (text) => Boolean(readScanned(text).kind)));
  });
});

const body = fc
  .array(fc.constantFrom(...ALPHABET), { minLength: 6, maxLength: 6 })
  .map((all) => all.join(""));
const codes = body.map((six) => `N${six}${checkCharacter(`N${six}`)}`);

describe("where a mistyped code may be wrong", () => {
  it("finds an eight that was typed for a B, and says where", () => {
    // By hand: P4HB8Z0V is a code; its B at place 4 typed as 8.
    const found = likelySlips("p4h8-8z0v");

    expect(found).toContainEqual({ code: "P4HB8Z0V", at: 3, typed: "8", meant: "B" });
  });
  it("finds two neighbours that were exchanged", () => {
    fc.assert(
      fc.property(codes, fc.integer({ min: 0, max: 6 }), (code, at) => {
        fc.pre(code[at] !== code[at + 1]);
        const typed = code.slice(0, at) + code.charAt(at + 1) + code.charAt(at) + code.slice(at + 2);

        expect(likelySlips(typed).map((slip) => slip.code)).toContain(code);
      }),
    );
  });
  it("offers only codes whose check fits", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 10 }), (typed) => {
        for (const slip of likelySlips(typed)) expect(readScanned(slip.code).kind).toBe("own");
      }),
    );
  });
});
