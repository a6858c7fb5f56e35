import { ApiError, call, get, sentenceFor } from "$lib/api/call";
import { uuid7 } from "$lib/api/ids";
import { draftsOf, inputFrom, type Drafts } from "$lib/calculators/draft";
import { CalculatorForm } from "$lib/calculators/form.svelte";
import type { Given, Schema } from "$lib/calculators/shapes";
import { notify } from "$lib/components/notices.svelte";
import { dropDraft, keepDraft, readDraft } from "$lib/db/drafts";
import { t } from "$lib/words";
import { changedFields, merged } from "./merging";
import { factsOf, type Doubt, type FullSheet, type Lack, type SheetChange } from "./shapes";

interface Typed {
  /** The new sheet's own id: a save that got no answer is repeated with it. */
  id: string;
  version: number;
  /** What was read, so that it can be told what was changed since. */
  before: Given;
  drafts: Drafts;
}
/** What somebody else saved while this was typed. */
export interface Meanwhile {
  changes: SheetChange[];
  both: string[];
}

/** One model sheet while it is written: the form, the version it goes back to, and what is typed and not saved. */
export class Editing {
  form = $state.raw<CalculatorForm | null>(null);
  version = $state(0);
  doubts = $state.raw<Doubt[]>([]);
  lacks = $state.raw<Lack[]>([]);
  meanwhile = $state.raw<Meanwhile | null>(null);
  trouble = $state<string | null>(null);
  /** The sheet of this make and model that is there already. */
  other = $state<string | null>(null);
  busy = $state(false);
  why = $state("");
  private before = $state.raw<Given>({});
  private newId = uuid7();

  constructor(
    readonly id: string | null,
    private readonly unit: string | null = null,
    private readonly begun: Given = {},
  ) {}

  get isChanged(): boolean {
    const { form } = this;
    return !!form && changedFields(form.fields, draftsOf(form.fields, this.before), form.drafts).size > 0;
  }

  private get key(): string {
    return `sheet/${this.id ?? "new"}`;
  }

  async load(): Promise<void> {
    this.trouble = null;
    try {
      const input = await get<Schema>("model-sheets/shape/");
      const form = new CalculatorForm({ input, example: EXAMPLE });
      this.before = this.begun;
      if (this.id) this.take(await get<FullSheet>(`model-sheets/${this.id}/`));
      form.fill(this.id ? this.before : { ...this.begun, protection_class: "I" });
      await this.resume(form);
      this.form = form;
    } catch (error) {
      this.trouble = sentenceFor(error);
    }
  }

  private take(sheet: FullSheet): void {
    this.before = factsOf(sheet);
    ({ version: this.version, doubts: this.doubts, lacks: this.lacks } = sheet);
  }

  /** What was typed here and not saved stands there again, on top of what others saved since. */
  private async resume(form: CalculatorForm): Promise<void> {
    const typed = await readDraft<Typed>(this.key).catch(() => undefined);
    if (!typed) return;
    this.newId = typed.id;
    if (this.id && typed.version !== this.version) await this.mergeInto(form, typed);
    else form.resume(typed.drafts);
  }

  private async mergeInto(form: CalculatorForm, typed: Pick<Typed, "before" | "version" | "drafts">) {
    const since = await get<{ results: SheetChange[] }>(`model-sheets/${this.id ?? ""}/changes/`, {
      since: typed.version,
    });
    const { drafts, both } = merged(
      form.fields,
      draftsOf(form.fields, typed.before),
      typed.drafts,
      this.before,
    );
    form.drafts = drafts;
    form.troubles = {};
    this.meanwhile = { changes: since.results, both };
  }

  /** Follows what is typed, so that it is there again after a reload. */
  keepTyped(): void {
    if (!this.form) return;
    const drafts = plain(this.form.drafts);
    const { version, before } = this;
    if (this.isChanged) void keepDraft(this.key, { id: this.newId, version, before, drafts });
  }

  async throwAway(): Promise<void> {
    this.form?.fill(this.before);
    this.meanwhile = null;
    this.trouble = null;
    await dropDraft(this.key);
  }

  /** Saves. Answers the id of the sheet when it is saved, else null with the reason shown. */
  async save(): Promise<string | null> {
    this.trouble = this.other = null;
    const facts = this.form?.read();
    if (!facts) {
      this.trouble = t("sheets.look_again");
      return null;
    }
    this.busy = true;
    try {
      const saved = await this.send(facts);
      this.take(saved);
      this.form?.fill(this.before);
      this.meanwhile = null;
      this.why = "";
      await dropDraft(this.key);
      notify(t("sheets.saved"));
      return saved.id;
    } catch (error) {
      await this.refuse(error);
      return null;
    } finally {
      this.busy = false;
    }
  }

  private async send(facts: Given): Promise<FullSheet> {
    if (!this.id) {
      const body = { id: this.newId, unit: this.unit, ...facts };
      return (await call<FullSheet>("POST", "model-sheets/", { body })).value;
    }
    const body = { why: this.why.trim(), ...facts };
    const ifMatch = `"${String(this.version)}"`;
    return (await call<FullSheet>("PUT", `model-sheets/${this.id}/`, { body, ifMatch })).value;
  }

  private async refuse(error: unknown): Promise<void> {
    this.trouble = sentenceFor(error);
    if (!(error instanceof ApiError)) return;
    if (error.code === "stale") await this.showOther();
    else if (error.code === "model_sheet_exists") this.other = (error.facts["sheet"] as string) ?? null;
    else if (error.fields.length) {
      this.form?.refuse(error.fields);
      this.trouble = t("sheets.look_again");
    }
  }

  /** Somebody else was quicker: what they changed is read, and what was typed here laid on top of it. */
  private async showOther(): Promise<void> {
    const { form, version, before } = this;
    if (!form || !this.id) return;
    try {
      this.take(await get<FullSheet>(`model-sheets/${this.id}/`));
      await this.mergeInto(form, { version, before, drafts: plain(form.drafts) });
      this.trouble = null;
    } catch (error) {
      this.trouble = sentenceFor(error);
    }
  }

  /** The input as it stands, as far as it can be read: for drawings while typing. */
  readable(): Given {
    return this.form ? inputFrom(this.form.fields, this.form.drafts).given : {};
  }
}

/** Fields that are shown at once, though they may be left out. */
const EXAMPLE: Given = {
  mains_parts: [
    {
      kind: "x_capacitor",
      name: "C101",
      rated_volt: 250,
      rated_ampere: 2,
      capacitance_farad: 1e-7,
      rating_class: "X2",
    },
  ],
  cell: {
    low_ua: 4,
    high_ua: 12,
    memory_volt: 2,
    hold_volt: 2,
    diode_volt: 0.3,
    resistor_ohm: 1000,
    supply_pin: "pin 28 of the memory",
  },
};

/** A copy without the screen's proxies; the type of drafts is too deep for the compiler to copy. */
const plain = (drafts: object): Drafts => $state.snapshot(drafts) as Drafts;
