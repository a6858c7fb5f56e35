import { ApiError, call, NoNetwork, sentenceFor } from "$lib/api/call";
import type { Repair, Shop } from "$lib/api/shapes";
import { t, tMaybe } from "$lib/words";
import { bookInOf, freshForm, isTouched, whatIsWrong, type BookInForm, type Wrong } from "./form";
import { dropForm, keepForm, readForm } from "./kept";

const KEEP_AFTER_MS = 400;

/** The last unit booked in from this screen: the answer alone says what came of the status link. */
let lastBooked: Repair | null = null;
export const bookedJustNow = (id: string) => (lastBooked?.id === id ? lastBooked : null);

/** One booking-in on the screen: what is typed, what is wrong with it, and its saving. */
export class Booking {
  form = $state() as BookInForm;
  errors = $state<Record<string, string>>({});
  trouble = $state<string | null>(null);
  /** The unit is already here as this repair, or this very booking was saved before. */
  already = $state<{ id: string; number: string } | null>(null);
  busy = $state(false);
  restored = $state(false);
  private keeping: ReturnType<typeof setTimeout> | undefined;
  private closed = false;
  /** The errors shown are our own: they go away as they are mended. */
  private checking = false;

  constructor(
    private readonly shop: Shop,
    private readonly language: string,
  ) {
    this.form = freshForm(shop, language);
  }

  /** Brings back what was typed before a reload. */
  async restore(): Promise<void> {
    const kept = await readForm().catch(() => undefined);
    if (!kept || !isTouched(kept)) return;
    this.form = { ...freshForm(this.shop, this.language), ...kept };
    this.restored = true;
  }

  /** Keeps what is typed, a moment after the last key. */
  keepSoon(): void {
    if (this.checking) this.check();
    clearTimeout(this.keeping);
    this.keeping = setTimeout(() => void this.keepNow(), KEEP_AFTER_MS);
  }

  async keepNow(): Promise<void> {
    clearTimeout(this.keeping);
    if (!this.closed) await keepForm(this.form).catch(() => undefined);
  }

  /** Starts over with a new id. */
  async startOver(): Promise<void> {
    clearTimeout(this.keeping);
    await dropForm();
    this.form = freshForm(this.shop, this.language);
    this.checking = false;
    this.errors = {};
    this.trouble = null;
    this.already = null;
    this.restored = false;
  }

  /** Sends the booking. Returns the repair, or null with `errors` or `trouble` set. A retry carries the same id. */
  async save(): Promise<Repair | null> {
    this.already = null;
    if (!this.check()) return null;
    this.busy = true;
    try {
      await this.keepNow();
      const body = bookInOf(this.form, this.shop.minor_digits);
      lastBooked = (await call<Repair>("POST", "repairs/", { body, patience: 30_000 })).value;
      this.closed = true;
      await dropForm();
      return lastBooked;
    } catch (error) {
      this.refused(error);
      return null;
    } finally {
      this.busy = false;
    }
  }

  /** Whether it could be saved, but nobody has signed. */
  lacksOnlySignature(): boolean {
    return this.check() && !this.form.signature && !this.form.signed_name.trim();
  }

  private check(): boolean {
    const wrong = whatIsWrong(this.form, this.shop.minor_digits);
    this.errors = inWords(wrong);
    this.checking = Object.keys(wrong).length > 0;
    this.trouble = this.checking ? t("book.wrong") : null;
    return !this.checking;
  }

  private refused(error: unknown): void {
    this.trouble = error instanceof NoNetwork ? t("book.not_sent") : sentenceFor(error);
    if (!(error instanceof ApiError)) return;
    if (error.fields.length) {
      this.trouble = t("book.wrong");
      this.errors = Object.fromEntries(error.fields.map(({ field, detail }) => [field, detail]));
    }
    if (error.code === "already_here")
      this.already = { id: String(error.facts["repair"]), number: String(error.facts["number"]) };
    if (error.code === "other_content") {
      // An earlier try got through and its answer was lost; what was changed since is not in it.
      this.trouble = t("book.saved_before");
      this.already = { id: this.form.id, number: "" };
    }
  }
}

function inWords(wrong: Wrong): Record<string, string> {
  return Object.fromEntries(
    Object.entries(wrong).map(([field, word]) => [field, tMaybe(`book.wrong.${word}`, word)]),
  );
}
