import { NoNetwork, sentenceFor } from "$lib/api/call";
import type { EntryKind } from "$lib/api/work-shapes";
import { record } from "$lib/queue";
import { onChange } from "$lib/queue/changes";
import { session } from "$lib/session/session.svelte";
import type { SaveMore } from "./context";
import { fetchWorksheet, keptWorksheet, noteOpened, type OpenWorksheet } from "./store";
import { worksheetState } from "./state";

/** A worksheet on the screen: from the phone first, then what is new from the server, then as entries are made. */
export class OpenSheet {
  kept = $state.raw<OpenWorksheet | null>(null);
  trouble = $state<string | null>(null);
  state = $derived(this.kept && worksheetState(this.kept.pack, this.kept.entries));
  #stop: () => void;

  constructor(readonly id: string) {
    this.#stop = onChange(() => void this.read());
    void this.#open();
  }

  close(): void {
    this.#stop();
  }

  async read(): Promise<void> {
    this.kept = await keptWorksheet(this.id, this.kept);
  }

  async #open(): Promise<void> {
    // A full phone opens its worksheets all the same.
    void noteOpened(this.id).catch(() => undefined);
    await this.read();
    await this.fetch();
  }

  /** Brings what is new. Without network the sheet on the phone is enough; without that it says so. */
  async fetch(): Promise<void> {
    try {
      await fetchWorksheet(this.id);
      await this.read();
    } catch (error) {
      if (!(error instanceof NoNetwork) || !this.kept) this.trouble = sentenceFor(error);
    }
  }

  /** Records an entry on a step; durable when it returns its id. */
  async save(
    step: string,
    kind: EntryKind,
    value: Record<string, unknown>,
    more: SaveMore = {},
  ): Promise<string | null> {
    if (!this.kept) return null;
    const { repair } = this.kept.pack;
    const { photo, step: _step, ...rest } = more;
    const entry = await record({
      repair,
      worksheet: this.id,
      step,
      kind,
      value,
      ...rest,
      ...(photo ? { photo } : {}),
    });
    await this.read();
    if (session.plain) await this.fetch();
    return entry.id;
  }
}
