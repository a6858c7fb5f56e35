import { describe, expect, it } from "vitest";
import { bookInOf, freshForm, isTouched, whatIsWrong } from "../../../src/pages/desk/book-in/form";
import { drawSignature, strokesOf } from "../../../src/pages/desk/signature";
import { dayFrom } from "../../../src/pages/days";
import { shop } from "../../stand-ins/desk";

const now = new Date(2026, 1, 20, 23, 30);
function filled() {
  const form = freshForm(shop, "en", now);
  Object.assign(form.customer, { name: " Lena Okafor ", phone: "030 1" });
  Object.assign(form.unit, { make: "Brindlow", model: "E9" });
  form.complaint = "Hums";
  return form;
}

describe("the booking-in form", () => {
  it("begins with the shop's own supply, fee and a promise in two weeks", () => {
    const form = freshForm(shop, "en", now);

    expect(form.use_at).toEqual({ country: "DE", volt: "230", hz: "50", confirmed: false });
    expect(form.diagnosis_fee).toBe("35.00");
    expect(form.due_on).toBe("2026-03-06");
    expect(isTouched(form)).toBe(false);
  });

  it("names what is missing as the server names it", () => {
    expect(whatIsWrong(freshForm(shop, "en", now), 2)).toEqual({
      "customer.name": "needed",
      "unit.make": "needed",
      "unit.model": "needed",
      complaint: "needed",
    });
  });

  it("refuses volts and amounts that cannot be read", () => {
    const form = filled();
    form.set_for_volt = "230/240";
    form.use_at.volt = "";
    form.spending_limit = "some";

    expect(whatIsWrong(form, 2)).toEqual({
      set_for_volt: "whole_number",
      use_at_volt: "whole_number",
      "allowed.spending_limit_minor": "no_amount",
    });
  });

  it("sends minor units, null for a setting that is not known, and every piece", () => {
    const form = filled();
    form.spending_limit = "150,50";
    form.pieces = ["mains cord"];

    const sent = bookInOf(form, 2);

    expect(sent.allowed).toMatchObject({ diagnosis_fee_minor: 3500, spending_limit_minor: 15050 });
    expect(sent.set_for_volt).toBeNull();
    expect(sent.pieces).toEqual([{ name: "mains cord" }]);
    expect(sent.customer).toEqual({ name: "Lena Okafor", phone: "030 1", email: "", language: "en" });
    expect(sent.signature).toBeNull();
  });

  it("sends only the id of a customer and a unit that are known", () => {
    const form = filled();
    form.customer.known = { id: "c1", name: "Lena", phone: "", email: "" };

    expect(bookInOf(form, 2).customer).toEqual({ id: "c1" });
    expect(whatIsWrong({ ...form, customer: { ...form.customer, name: "" } }, 2)).toEqual({});
  });

  it("takes a typed name for the signature", () => {
    const form = filled();
    form.signed_name = "Lena O.";

    expect(bookInOf(form, 2).signature).toMatchObject({ name: "Lena O.", strokes: [] });
  });

  it("counts days on the calendar of who looks, across months", () => {
    expect(dayFrom(new Date(2026, 11, 31, 23, 59), 1)).toBe("2027-01-01");
  });
});

describe("a drawn signature", () => {
  it("is kept as numbers and drawn as plain lines", () => {
    const strokes = strokesOf([
      { points: [{ x: 1.234, y: 2 }] },
      {
        points: [
          { x: 0, y: 0 },
          { x: 5, y: 6.66 },
        ],
      },
    ]);

    const svg = drawSignature(strokes, 300.4, 100);

    expect(strokes).toEqual([
      [[1.2, 2]],
      [
        [0, 0],
        [5, 6.7],
      ],
    ]);
    expect(svg).toContain('viewBox="0 0 300 100"');
    expect(svg).toContain('<polyline points="1.2,2 1.2,2"/><polyline points="0,0 5,6.7"/>');
    expect(svg).not.toMatch(/style|class|href|<text/);
  });
});
