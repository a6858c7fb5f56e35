import { ApiError, post, sentenceFor } from "$lib/api/call";
import type { Tried, TryAgainst } from "$lib/api/template-shapes";
import type { Pack } from "$lib/api/work-shapes";
import { keepDraft, readDraft } from "$lib/db/drafts";
import { openRepairs } from "./against";

/** What a draft is tried against, and what it is called on the screen; no name: a unit nobody knows. */
export interface Against extends TryAgainst {
  name: string;
}
export const NOBODY_KNOWS: Against = { name: "" };

/** The pack that a draft would make for a unit. Nothing of it is kept by the server. */
export class Trying {
  against = $state.raw<Against>(NOBODY_KNOWS);
  /** The newest that could be made; it stays on the screen while the draft has faults. */
  pack = $state.raw<Pack | null>(null);
  trouble = $state<string | null>(null);
  /** Why it does not start, one sentence each. */
  lacks = $state.raw<string[]>([]);
  /** The draft has faults; they are said where they are. */
  isFaulty = $state(false);
  busy = $state(false);
  #turn = 0;
  /** Whether it still may look for a unit by itself. */
  #looks = true;
  /** Somebody who has chosen is not passed over, not even by a search that is under way. */
  #isChosen = false;

  constructor(
    readonly draft: string,
    readonly others: () => Promise<Against[]> = openRepairs,
  ) {}

  get #key(): string {
    return `template-try/${this.draft}`;
  }

  /** What it was tried against before, on this device. */
  async recall(): Promise<void> {
    const kept = await readDraft<Against>(this.#key);
    this.against = kept ?? NOBODY_KNOWS;
    this.#isChosen = kept !== undefined;
  }
  async choose(against: Against): Promise<void> {
    this.against = against;
    this.#isChosen = true;
    await keepDraft(this.#key, against);
    await this.run();
  }

  /** Makes the pack anew. A job that is not for a unit nobody knows is tried on those in the shop, once. */
  async run(): Promise<void> {
    await this.#ask();
    if (!this.trouble || this.isFaulty || this.#isChosen || !this.#looks) return;
    this.#looks = false;
    for (const other of await this.others().catch(() => [])) {
      if (this.#isChosen || (await this.#takes(other))) return;
    }
  }

  /** Only the answer to the last question counts. */
  async #ask(): Promise<void> {
    const turn = ++this.#turn;
    this.busy = true;
    try {
      const pack = await this.#packFor(this.against);
      if (turn === this.#turn) this.#answered(pack);
    } catch (error) {
      if (turn === this.#turn) this.#refused(error);
    } finally {
      if (turn === this.#turn) this.busy = false;
    }
  }

  /** Whether it starts on this one; until then the screen stays with what it was tried on. */
  async #takes(other: Against): Promise<boolean> {
    const turn = this.#turn;
    const pack = await this.#packFor(other).catch(() => null);
    if (!pack || turn !== this.#turn) return false;
    this.against = other;
    this.#answered(pack);
    return true;
  }

  async #packFor({ name: _name, ...asked }: Against): Promise<Pack> {
    return (await post<Tried>(`template-drafts/${this.draft}/try/`, asked)).pack;
  }

  #answered(pack: Pack): void {
    this.pack = pack;
    this.trouble = null;
    this.lacks = [];
    this.isFaulty = false;
  }
  #refused(error: unknown): void {
    this.trouble = sentenceFor(error);
    this.lacks = error instanceof ApiError ? error.fields.map((field) => field.detail) : [];
    this.isFaulty = error instanceof ApiError && error.code === "template_faulty";
  }
}
