import { byText } from "$lib/by-text";
import type { Meter, ReadingValue } from "$lib/api/work-shapes";
import { RULES, type Quantity } from "$lib/calc/quantities";
import { parseReading } from "$lib/calc/readings";

/** What an instrument reads, as the server tells it. */
export interface OfferSent {
  id: string;
  meter: string;
  meter_name: string;
  quantity: string;
  /** As a tech would have typed it: `4.987 V`, `OL`. */
  typed: string;
  /** In the words of the instrument: `+4.98700000E+00`. */
  said: string;
  taken_at: string;
  age_seconds: number;
}
/** The same with the moment it was read by this phone's own clock (ms): its age is right with a wrong clock. */
export interface Offer extends OfferSent {
  at: number;
}

/** From here on a reading is called old: the probes may be elsewhere by now. */
const OLD_SECONDS = 30;
/** After this nobody is told any more, the server no longer shows it either. */
const GONE_SECONDS = 15 * 60;

export function withMoment(sent: OfferSent, now: number): Offer {
  return { ...sent, at: now - sent.age_seconds * 1000 };
}

function ageOf(offer: Offer, now: number): number {
  return Math.max(0, Math.round((now - offer.at) / 1000));
}

/** The newest of each meter, newest first, from what was known and what came. */
export function merged(known: Offer[], came: Offer[]): Offer[] {
  const byMeter = new Map<string, Offer>();
  const all = [...known, ...came].sort((a, b) => byText(b.taken_at, a.taken_at));
  for (const offer of all) if (!byMeter.has(offer.meter)) byMeter.set(offer.meter, offer);
  return [...byMeter.values()];
}

/** What a step does with an offer: it can be taken, or why not. */
export interface Fit {
  offer: Offer;
  /** `old` can be taken too, and says so. */
  how: "fresh" | "old" | "other_quantity" | "other_meter";
  age: number;
}

/** The one offer worth showing: the newest that can be taken; else the newest fresh one with why it cannot. */
export function bestFit(offers: Offer[], quantity: Quantity, meters: Meter[], now: number): Fit | null {
  const fits = offers
    .map((offer): Fit => ({ offer, how: howItFits(offer, quantity, meters, now), age: ageOf(offer, now) }))
    .filter((fit) => fit.age < GONE_SECONDS);
  const canBeTaken = fits.find((fit) => fit.how === "fresh") ?? fits.find((fit) => fit.how === "old");
  return canBeTaken ?? fits.find((fit) => fit.age < OLD_SECONDS) ?? null;
}

function howItFits(offer: Offer, quantity: Quantity, meters: Meter[], now: number): Fit["how"] {
  if (offer.quantity !== quantity) return "other_quantity";
  if (!meters.some((meter) => meter.id === offer.meter)) return "other_meter";
  return ageOf(offer, now) < OLD_SECONDS ? "fresh" : "old";
}

/** The value with where it came from, as long as it is what the instrument said, on its meter. */
export function asTaken(value: ReadingValue, offer: Offer | null, quantity: Quantity): ReadingValue {
  if (!offer || offer.quantity !== quantity || value.meter !== offer.meter) return value;
  const heard = parseReading(offer.typed, quantity);
  const state = heard.state === "value" ? "measured" : heard.state;
  if (heard.text !== value.value_text || state !== value.state) return value;
  return { ...value, instrument: { offer: offer.id, said: offer.said, taken_at: offer.taken_at } };
}

/** What goes into the field, where the unit stands beside it: `0.5`, `400m`; in full where a bare prefix is none. */
export function fieldText(typed: string, quantity: Quantity): string {
  const { symbol } = RULES[quantity];
  const short = symbol && typed.endsWith(symbol) ? typed.slice(0, -symbol.length).replace(" ", "") : typed;
  try {
    return parseReading(short, quantity).text === parseReading(typed, quantity).text ? short : typed;
  } catch {
    return typed; // milli without its unit could be mega, or minutes
  }
}
