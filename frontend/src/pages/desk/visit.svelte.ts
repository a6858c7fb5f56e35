import "$lib/words/desk";
import { ApiError, call, sentenceFor, type Verb } from "$lib/api/call";
import type { Repair } from "$lib/api/shapes";
import { notify } from "$lib/components/notices.svelte";
import { t } from "$lib/words";

/** A repair on the desk's screen, with the version its changes are based on. */
export class Visit {
  repair = $state.raw<Repair | null>(null);
  trouble = $state<string | null>(null);
  busy = $state(false);
  etag = $state<string | null>(null);

  constructor(readonly id: string) {}

  async load(): Promise<void> {
    this.trouble = null;
    try {
      this.take(await call<Repair>("GET", `repairs/${this.id}/`));
    } catch (error) {
      this.trouble = sentenceFor(error);
    }
  }

  private take(answer: { value: Repair; etag: string | null }): void {
    this.repair = answer.value;
    this.etag = answer.etag ?? `"${String(answer.value.version)}"`;
  }

  /**
   * Changes the repair if it is still as it was read. Answers null when done, else a sentence for beside the button.
   * When somebody else was quicker, the newest state is read so that a second try is an informed one.
   */
  async change(verb: Verb, path: string, body: unknown, said: string): Promise<string | null> {
    this.busy = true;
    try {
      const ifMatch = this.etag ?? "";
      this.take(await call<Repair>(verb, `repairs/${this.id}/${path}`, { body, ifMatch }));
      notify(said);
      return null;
    } catch (error) {
      if (!(error instanceof ApiError && error.code === "stale")) return sentenceFor(error);
      await this.load();
      return t("visit.stale");
    } finally {
      this.busy = false;
    }
  }
}
