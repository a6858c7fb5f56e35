import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { moneyOrNull, NoAmount, readMoney, writeMoney } from "../../../src/pages/desk/money";

describe("an amount as typed", () => {
  it.each([
    ["12,50", 1250],
    ["12.50", 1250],
    ["12,5", 1250],
    ["12", 1200],
    ["12.", 1200],
    [" 1 250,00 ", 125000],
    ["1'250.00", 125000],
    ["0.07", 7],
    // 1.15 * 100 is 114.99999999999999 in floating point.
    ["1.15", 115],
    ["90071992547409.91", Number.MAX_SAFE_INTEGER],
  ])("reads %j exactly", (typed, minor) => {
    expect(readMoney(typed, 2)).toBe(minor);
  });

  it.each(["", "abc", "-3", "1.250", "1,2,3", "12,345", "1e3", "+5", ".5", "90071992547409.92"])(
    "refuses %j",
    (typed) => {
      expect(() => readMoney(typed, 2)).toThrow(NoAmount);
    },
  );

  it("knows currencies without and with three minor digits", () => {
    expect(readMoney("1250", 0)).toBe(1250);
    expect(() => readMoney("12,5", 0)).toThrow(NoAmount);
    expect(readMoney("1.250", 3)).toBe(1250);
  });

  it("comes back as it went out, whatever the amount", () => {
    const amounts = fc.integer({ min: 0, max: Number.MAX_SAFE_INTEGER });
    fc.assert(
      fc.property(amounts, fc.integer({ min: 0, max: 4 }), (minor, digits) => {
        expect(readMoney(writeMoney(minor, digits), digits)).toBe(minor);
      }),
    );
  });

  it("takes an empty field as nothing and tells what is no amount", () => {
    expect(moneyOrNull("  ", 2)).toBe(0);
    expect(moneyOrNull("a lot", 2)).toBeNull();
  });
});
