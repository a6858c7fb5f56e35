import { expect, test } from "vitest";
import type { Meter, ReadingValue } from "$lib/api/work-shapes";
import { asTaken, bestFit, fieldText, merged, withMoment, type OfferSent } from "$lib/instruments/offers";

const NOW = Date.parse("2026-03-02T09:00:00Z");
const sent = (more: Partial<OfferSent> = {}): OfferSent => ({
  id: "o1",
  meter: "m1",
  meter_name: "Hand meter",
  quantity: "voltage_dc",
  typed: "4.987 V",
  said: "+4.98700000E+00",
  taken_at: "2026-03-02T08:59:57Z",
  age_seconds: 3,
  ...more,
});
const offer = (more: Partial<OfferSent> = {}) => withMoment(sent(more), NOW);
const METERS = [{ id: "m1" }, { id: "m2" }] as Meter[];
const VALUE = { value_text: "4.987", state: "measured", meter: "m1", quantity: "voltage_dc" } as ReadingValue;

test("a fresh offer of the right quantity and meter can be taken, with its age", () => {
  const fit = bestFit([offer()], "voltage_dc", METERS, NOW + 2000);

  expect(fit).toMatchObject({ how: "fresh", age: 5 });
});

test("the age is right on a phone whose clock is a day off", () => {
  const wrong = NOW + 86_400_000;

  expect(bestFit([withMoment(sent(), wrong)], "voltage_dc", METERS, wrong)?.age).toBe(3);
});

test("after half a minute it is called old, after a quarter of an hour it is gone", () => {
  expect(bestFit([offer()], "voltage_dc", METERS, NOW + 26_000)?.how).toBe("fresh");
  expect(bestFit([offer()], "voltage_dc", METERS, NOW + 27_000)?.how).toBe("old");
  expect(bestFit([offer()], "voltage_dc", METERS, NOW + 15 * 60_000)).toBeNull();
});

test("another quantity is told while it is fresh and never offered", () => {
  const amps = [offer({ quantity: "current_dc", typed: "160 mA" })];

  expect(bestFit(amps, "voltage_dc", METERS, NOW)?.how).toBe("other_quantity");
  expect(bestFit(amps, "voltage_dc", METERS, NOW + 60_000)).toBeNull();
});

test("a meter that is not for this step is told and never offered", () => {
  expect(bestFit([offer({ meter: "m9" })], "voltage_dc", METERS, NOW)?.how).toBe("other_meter");
});

test("what can be taken goes before what cannot, a fresh one before an old one", () => {
  const amps = offer({ id: "o2", meter: "m2", quantity: "current_dc" });
  const old = offer({ id: "o3", age_seconds: 40 });
  const fresh = offer({ id: "o4", meter: "m2" });

  expect(bestFit([amps, old], "voltage_dc", METERS, NOW)?.offer.id).toBe("o3");
  expect(bestFit([amps, old, fresh], "voltage_dc", METERS, NOW)?.offer.id).toBe("o4");
});

test("of each meter only its newest counts", () => {
  const first = offer();
  const second = offer({ id: "o2", taken_at: "2026-03-02T09:00:05Z" });
  const other = offer({ id: "o3", meter: "m2", taken_at: "2026-03-02T09:00:01Z" });

  expect(merged([first], [second, other]).map((one) => one.id)).toEqual(["o2", "o3"]);
});

test("a value that is what the instrument said keeps its words", () => {
  expect(asTaken(VALUE, offer(), "voltage_dc").instrument).toEqual({
    offer: "o1",
    said: "+4.98700000E+00",
    taken_at: "2026-03-02T08:59:57Z",
  });
});

test.each([
  ["it was changed by hand", { ...VALUE, value_text: "4.99" }],
  ["another meter was chosen", { ...VALUE, meter: "m2" }],
  ["it became over range", { ...VALUE, value_text: null, state: "over_range" as const }],
])("a value is typed by hand when %s", (_why, value) => {
  expect(asTaken(value, offer(), "voltage_dc")).not.toHaveProperty("instrument");
});

test("over range is taken as over range", () => {
  const value = { ...VALUE, value_text: null, state: "over_range" as const };

  expect(asTaken(value, offer({ typed: "OL", said: "+9.9E+37" }), "voltage_dc").instrument?.said).toBe(
    "+9.9E+37",
  );
});

test.each([
  ["4.987 V", "voltage_dc", "4.987"],
  ["160 mA", "current_dc", "160m"],
  ["470 nF", "capacitance", "470n"],
  ["47 µF", "capacitance", "47µ"],
  ["23.5 °C", "temperature", "23.5"],
  ["12 mΩ", "resistance", "12 mΩ"],
  ["4.7 kΩ", "resistance", "4.7k"],
  ["2 ms", "time", "2 ms"],
  ["OL", "voltage_dc", "OL"],
  ["n/m", "voltage_dc", "n/m"],
  ["12", "count", "12"],
] as const)("%s of %s stands in the field as %s", (typed, quantity, text) => {
  expect(fieldText(typed, quantity)).toBe(text);
});
