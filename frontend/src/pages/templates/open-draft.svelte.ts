import { ApiError, call, NoNetwork, post, sentenceFor, type Answer } from "$lib/api/call";
import type { Draft } from "$lib/api/template-shapes";
import { dropDraft, keepDraft, readDraft } from "$lib/db/drafts";
import type { TemplateBody } from "$lib/templates/body";
import { noHistory, noted, redone, undone } from "./history";

export const WAIT_MS = 700;
const AGAIN_MS = 5_000;
const EMPTY: TemplateBody = {
  schema_version: 1,
  slug: "",
  title: "",
  summary: "",
  minutes: 0,
  role: "tech",
  steps: [],
};

/** What lies on this device until the server has it, and the version it was written on. */
interface Unsaved {
  version: number;
  body: TemplateBody;
}
export type Saving = "saved" | "waiting" | "sending" | "offline" | "refused";

/** A draft on the screen: every change is kept here at once and sent a moment later. Nothing typed is lost by a crash, a
 *  missing network or another person's change: that one is shown, and either may stay. */
export class OpenDraft {
  kept = $state.raw<Draft | null>(null);
  body = $state.raw<TemplateBody>(EMPTY);
  saving = $state<Saving>("saved");
  trouble = $state<string | null>(null);
  /** As somebody else left it, while ours waits for a decision. */
  theirs = $state.raw<Draft | null>(null);
  #history = $state.raw(noHistory<TemplateBody>());
  #etag: string | null = null;
  #theirEtag: string | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #sending: Promise<void> | null = null;

  constructor(readonly id: string) {}

  get canUndo(): boolean {
    return this.#history.past.length > 0;
  }
  get canRedo(): boolean {
    return this.#history.future.length > 0;
  }
  get #address(): string {
    return `template-drafts/${this.id}/`;
  }
  get #key(): string {
    return `template-draft/${this.id}`;
  }

  /** Fetches the draft; what this device had not sent yet stands again. */
  async open(): Promise<void> {
    this.trouble = null;
    try {
      this.#take(await call<Draft>("GET", this.#address));
      this.body = this.kept?.body ?? EMPTY;
      await this.#takeUpUnsaved();
    } catch (error) {
      this.trouble = sentenceFor(error);
    }
  }

  /** A change by hand. Changes with the same topic soon after each other are undone together. */
  change(body: TemplateBody, topic = ""): void {
    if (body === this.body) return;
    this.#history = noted(this.#history, this.body, topic);
    this.#set(body);
  }
  undo(): void {
    this.#step(undone(this.#history, this.body));
  }
  redo(): void {
    this.#step(redone(this.#history, this.body));
  }

  /** Sends what waits; done when the server has it all, or said why not. */
  async save(): Promise<void> {
    clearTimeout(this.#timer);
    while (this.#sending) await this.#sending;
    if (this.saving === "saved" || this.theirs) return;
    this.#sending = this.#send().finally(() => (this.#sending = null));
    await this.#sending;
  }

  /** A step in the life of the draft: submit, review, publish. Throws what the server says no with. */
  async act<T>(what: "submit" | "review" | "publish", said: Record<string, unknown>): Promise<T> {
    await this.save();
    if (this.saving !== "saved") throw new NoNetwork();
    // What was seen here and nothing else is what is agreed to or published.
    return post<T>(`${this.#address}${what}/`, said, { ifMatch: this.#etag ?? "" });
  }

  /** Throws the draft away, here and in the shop. What was published stays. */
  async drop(): Promise<void> {
    clearTimeout(this.#timer);
    await call("DELETE", this.#address);
    this.saving = "saved";
    await dropDraft(this.#key);
  }

  /** A newer revision was published meanwhile, and what it changed was looked at: this is a change of that one. */
  async goOnFrom(revision: number): Promise<void> {
    await this.save();
    if (this.saving !== "saved") return;
    this.#sending = this.#send({ based_on: revision }).finally(() => (this.#sending = null));
    await this.#sending;
  }

  async keepMine(): Promise<void> {
    if (!this.theirs) return;
    this.kept = this.theirs;
    this.#etag = this.#theirEtag;
    this.theirs = null;
    this.saving = "waiting";
    await this.#keep();
    await this.save();
  }

  /** Theirs stands; one step back brings mine. */
  async takeTheirs(): Promise<void> {
    if (!this.theirs) return;
    this.#history = noted(this.#history, this.body, "");
    this.kept = this.theirs;
    this.body = this.theirs.body;
    this.#etag = this.#theirEtag;
    this.theirs = null;
    this.saving = "saved";
    await dropDraft(this.#key);
  }

  /** Leaving the screen: what waits goes now; what does not arrive is on this device. */
  close(): void {
    clearTimeout(this.#timer);
    if (this.saving === "waiting") void this.save().finally(() => clearTimeout(this.#timer));
  }

  #take({ value, etag }: Answer<Draft>): void {
    this.kept = value;
    this.#etag = etag ?? `"${String(value.version)}"`;
  }

  async #takeUpUnsaved(): Promise<void> {
    const unsaved = await readDraft<Unsaved>(this.#key);
    if (!unsaved || !this.kept?.may.edit) return;
    const server = this.kept;
    if (JSON.stringify(unsaved.body) === JSON.stringify(server.body)) return dropDraft(this.#key);
    this.body = unsaved.body;
    if (unsaved.version === server.version) return this.#soon("waiting", WAIT_MS);
    this.theirs = server;
    this.#theirEtag = this.#etag;
    this.saving = "refused";
  }

  #set(body: TemplateBody): void {
    this.body = body;
    void this.#keep();
    this.#soon("waiting", WAIT_MS);
  }
  #step(step: { value: TemplateBody; history: ReturnType<typeof noHistory<TemplateBody>> } | null): void {
    if (!step) return;
    this.#history = step.history;
    this.#set(step.value);
  }
  #keep(): Promise<void> {
    const unsaved: Unsaved = { version: this.kept?.version ?? 0, body: this.body };
    return keepDraft(this.#key, unsaved);
  }
  #soon(saving: Saving, milliseconds: number): void {
    clearTimeout(this.#timer);
    this.saving = this.theirs ? "refused" : saving;
    this.#timer = setTimeout(() => void this.save(), milliseconds);
  }

  async #send(more: { based_on?: number } = {}): Promise<void> {
    const sent = this.body;
    this.saving = "sending";
    try {
      const options = { body: { body: sent, ...more }, ifMatch: this.#etag ?? "" };
      this.#take(await call<Draft>("PUT", this.#address, options));
      this.trouble = null;
      await this.#arrived(sent);
    } catch (error) {
      await this.#failed(error);
    }
  }
  async #arrived(sent: TemplateBody): Promise<void> {
    if (this.body === sent) {
      this.saving = "saved";
      await dropDraft(this.#key);
    } else {
      await this.#keep();
      this.#soon("waiting", WAIT_MS);
    }
  }
  async #failed(error: unknown): Promise<void> {
    if (error instanceof NoNetwork) return this.#soon("offline", AGAIN_MS);
    this.saving = "refused";
    if (error instanceof ApiError && error.status === 412) return this.#meetTheirs();
    this.trouble = sentenceFor(error);
  }
  async #meetTheirs(): Promise<void> {
    try {
      const { value, etag } = await call<Draft>("GET", this.#address);
      this.#theirEtag = etag ?? `"${String(value.version)}"`;
      this.theirs = value;
    } catch (error) {
      if (error instanceof NoNetwork) this.#soon("offline", AGAIN_MS);
      else this.trouble = sentenceFor(error);
    }
  }
}
