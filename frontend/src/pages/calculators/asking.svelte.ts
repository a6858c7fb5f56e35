import { ApiError, sentenceFor } from "$lib/api/call";
import { askCalculator, askedBefore, NeverAsked } from "$lib/calculators/answers";
import type { Drafts } from "$lib/calculators/draft";
import type { Field } from "$lib/calculators/fields";
import type { CalculatorForm } from "$lib/calculators/form.svelte";
import { givenIn, hashOf } from "$lib/calculators/link";
import type { CalculatorAnswer, CalculatorRow, Given } from "$lib/calculators/shapes";
import { keepDraft, readDraft } from "$lib/db/drafts";
import type { KeptAnswer } from "$lib/db/schema";
import { t } from "$lib/words";

export interface Answered {
  given: Given;
  answer: CalculatorAnswer;
  keptAt: string | null;
}
interface Typed {
  shape: string;
  /** What the address said while it was typed. */
  hash: string;
  drafts: Drafts;
}

/** Asking one calculator: the answer shown, what was asked before, and what is typed meanwhile. */
export class Asking {
  answer = $state.raw<Answered | null>(null);
  before = $state.raw<KeptAnswer[]>([]);
  trouble = $state<string | null>(null);
  busy = $state(false);
  /** What was typed before is known. Until then nothing may overwrite it, and nobody types into what is about to change. */
  ready = $state(false);
  private turn = 0;
  private readonly key: string;
  private readonly shape: string;

  constructor(
    private readonly row: CalculatorRow,
    private readonly form: CalculatorForm,
  ) {
    this.key = `calculator/${row.name}`;
    this.shape = shapeOf(form.fields);
  }

  /** What was typed and not asked stands there again, unless a link brings something else; that is asked at once. */
  async begin(): Promise<void> {
    const { hash } = location;
    const given = givenIn(hash);
    const typed = await readDraft<Typed>(this.key).catch(() => undefined);
    const isAsked = this.turn > 0; // by a link that was followed meanwhile
    const resumes = !isAsked && typed?.shape === this.shape && (!given || typed.hash === hash);
    if (resumes) this.form.resume(typed.drafts);
    this.ready = true;
    void this.readBefore();
    if (given && !isAsked && !(resumes && this.form.hasChangedFrom(given))) await this.again(given);
  }

  async followLink(): Promise<void> {
    const given = givenIn(location.hash);
    if (given) await this.again(given);
  }

  /** Follows what is typed, so that it is there again after a reload. */
  keepTyped(): void {
    const drafts = $state.snapshot(this.form.drafts);
    if (this.ready) void keepDraft(this.key, { shape: this.shape, hash: location.hash, drafts });
  }

  async again(given: Given): Promise<void> {
    this.form.fill(given);
    await this.ask();
  }

  async ask(): Promise<void> {
    const turn = ++this.turn;
    this.trouble = null;
    const given = this.form.read();
    if (!given) {
      this.answer = null;
      return;
    }
    this.busy = true;
    // In place: going back leaves the calculator, and coming back finds it as it was.
    history.replaceState(history.state, "", hashOf(given));
    try {
      const answered = await askCalculator(this.row.name, given);
      // Asked again meanwhile: the answer to that is the one to show.
      if (turn !== this.turn) return;
      this.answer = { given, ...answered };
      void this.readBefore();
    } catch (error) {
      if (turn !== this.turn) return;
      this.answer = null;
      this.refuse(error);
    } finally {
      if (turn === this.turn) this.busy = false;
    }
  }

  private refuse(error: unknown): void {
    if (error instanceof NeverAsked) this.trouble = t("calculators.never_asked");
    else if (error instanceof ApiError && error.fields.length) this.form.refuse(error.fields);
    else this.trouble = sentenceFor(error);
  }

  private async readBefore(): Promise<void> {
    this.before = await askedBefore(this.row.name).catch(() => []);
  }
}

/** What decides whether typed text still fits: names and kinds, not the words beside them. */
function shapeOf(fields: Field[]): string {
  const words = new Set(["title", "text", "label", "examples"]);
  return JSON.stringify(fields, (key, value: unknown) => (words.has(key) ? undefined : value));
}
