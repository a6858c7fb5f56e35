import type { Shop } from "$lib/api/shapes";
import { t, type WordKey } from "$lib/words";

/** What each field of a booking, as the server names it, is called on the screen. */
const WORDS: Record<string, WordKey> = {
  "customer.name": "book.name",
  "customer.phone": "book.phone",
  "customer.email": "book.email",
  "customer.language": "book.language",
  "unit.make": "book.make",
  "unit.model": "book.model",
  "unit.serial": "book.serial",
  unit: "book.unit",
  complaint: "repair.complaint",
  last_worked: "book.last_worked",
  last_supply: "book.last_supply",
  set_for_volt: "book.set_for",
  use_at_country: "book.country",
  use_at_volt: "book.use_volt",
  use_at_hz: "book.use_hz",
  damage: "book.damage",
  pieces: "repair.pieces",
  photos: "visit.photos",
  "allowed.diagnosis_fee_minor": "book.fee",
  "allowed.spending_limit_minor": "book.limit",
  due_on: "book.due",
  signature: "book.sign",
};

/** What is wrong with a field, after the field's name: "Model: Please fill this in." */
export function namedTrouble(field: string, trouble: string, shop: Pick<Shop, "currency">): string {
  const word = WORDS[field] ?? WORDS[field.split(".")[0] ?? ""];
  return word ? `${t(word, { currency: shop.currency })}: ${trouble}` : trouble;
}
