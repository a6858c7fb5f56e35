import { uuid7 } from "$lib/api/ids";
import type { Allowed, BookIn, Customer, Shop, Unit } from "$lib/api/shapes";
import { dayFrom } from "../../days";
import { moneyOrNull, writeMoney } from "../money";
import { typedSignature, type Signature } from "../signature";

/** What stands on the screen, all as typed. Kept as a draft, so plain values only. */
export interface BookInForm {
  /** The id of the repair, made here and sent again on every retry. */
  id: string;
  customer: { known: Customer | null; name: string; phone: string; email: string; language: string };
  unit: { known: Unit | null; sheet: string | null; make: string; model: string; serial: string };
  complaint: string;
  last_worked: string;
  last_supply: string;
  set_for_volt: string;
  use_at: { country: string; volt: string; hz: string; confirmed: boolean };
  damage: string;
  pieces: string[];
  photos: { sha256: string; caption: string }[];
  allowed: Omit<Allowed, "diagnosis_fee_minor" | "spending_limit_minor">;
  diagnosis_fee: string;
  spending_limit: string;
  due_on: string;
  signature: Signature | null;
  signed_name: string;
}

const PROMISED_DAYS = 14;

export function freshCustomer(language: string): BookInForm["customer"] {
  return { known: null, name: "", phone: "", email: "", language };
}

/** An empty form with the shop's own proposals. */
export function freshForm(shop: Shop, language: string, now = new Date()): BookInForm {
  return {
    id: uuid7(now.getTime()),
    customer: freshCustomer(language),
    unit: { known: null, sheet: null, make: "", model: "", serial: "" },
    complaint: "",
    last_worked: "",
    last_supply: "",
    set_for_volt: "",
    use_at: {
      country: shop.country,
      volt: String(shop.bench_volt),
      hz: String(shop.bench_hz),
      confirmed: false,
    },
    damage: "",
    pieces: [],
    photos: [],
    allowed: { visible_changes: "ask", sounds: "none" },
    diagnosis_fee: writeMoney(shop.diagnosis_fee_minor ?? 0, shop.minor_digits),
    spending_limit: "",
    due_on: dayFrom(now, PROMISED_DAYS),
    signature: null,
    signed_name: "",
  };
}

/** Whether anything was typed that would be a pity to lose. */
export function isTouched(form: BookInForm): boolean {
  const { customer, unit } = form;
  const typed = [customer.name, customer.phone, customer.email, unit.make, unit.model, unit.serial];
  const more = [form.complaint, form.damage, form.last_worked, form.last_supply, form.set_for_volt];
  const chosen = customer.known ?? unit.known ?? form.signature;
  return !!chosen || form.pieces.length + form.photos.length > 0 || [...typed, ...more].some(Boolean);
}

export type FieldWord = "needed" | "whole_number" | "no_amount";
/** Field names as the server says them, with what is wrong. */
export type Wrong = Record<string, FieldWord>;

const wholeNumber = (text: string) => /^[1-9]\d{0,3}$/.test(text.trim());

/** What can be seen to be wrong before anything is sent. */
export function whatIsWrong(form: BookInForm, minorDigits: number): Wrong {
  const wrong: Wrong = {};
  const need = (field: string, text: string) => {
    if (!text.trim()) wrong[field] = "needed";
  };
  if (!form.customer.known) need("customer.name", form.customer.name);
  if (!form.unit.known) {
    need("unit.make", form.unit.make);
    need("unit.model", form.unit.model);
  }
  need("complaint", form.complaint);
  if (form.set_for_volt.trim() && !wholeNumber(form.set_for_volt)) wrong["set_for_volt"] = "whole_number";
  if (!wholeNumber(form.use_at.volt)) wrong["use_at_volt"] = "whole_number";
  if (!wholeNumber(form.use_at.hz)) wrong["use_at_hz"] = "whole_number";
  if (moneyOrNull(form.diagnosis_fee, minorDigits) === null)
    wrong["allowed.diagnosis_fee_minor"] = "no_amount";
  if (moneyOrNull(form.spending_limit, minorDigits) === null)
    wrong["allowed.spending_limit_minor"] = "no_amount";
  return wrong;
}

function customerOf({ known, name, phone, email, language }: BookInForm["customer"]): BookIn["customer"] {
  if (known) return { id: known.id };
  return { name: name.trim(), phone: phone.trim(), email: email.trim(), language };
}

function unitOf({ known, sheet, make, model, serial }: BookInForm["unit"]): BookIn["unit"] {
  if (known) return { id: known.id };
  return { model_sheet: sheet, make: make.trim(), model: model.trim(), serial: serial.trim() };
}

function signatureOf(form: BookInForm): Signature | null {
  const name = form.signed_name.trim();
  if (form.signature) return { ...form.signature, name };
  return name ? typedSignature(name) : null;
}

/** What is sent. Only for a form in which nothing is wrong. */
export function bookInOf(form: BookInForm, minorDigits: number): BookIn {
  return {
    id: form.id,
    customer: customerOf(form.customer),
    unit: unitOf(form.unit),
    complaint: form.complaint.trim(),
    last_worked: form.last_worked.trim(),
    last_supply: form.last_supply.trim(),
    set_for_volt: form.set_for_volt.trim() ? Number(form.set_for_volt) : null,
    set_for_hz: null,
    use_at_country: form.use_at.country,
    use_at_volt: Number(form.use_at.volt),
    use_at_hz: Number(form.use_at.hz),
    use_at_confirmed: form.use_at.confirmed,
    damage: form.damage.trim(),
    pieces: form.pieces.map((name) => ({ name })),
    allowed: {
      ...form.allowed,
      diagnosis_fee_minor: moneyOrNull(form.diagnosis_fee, minorDigits) ?? 0,
      spending_limit_minor: moneyOrNull(form.spending_limit, minorDigits) ?? 0,
    },
    signature: signatureOf(form),
    photos: form.photos,
    due_on: form.due_on || null,
  };
}
