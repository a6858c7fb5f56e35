import { NoNetwork, sentenceFor } from "$lib/api/call";
import type { Id } from "$lib/api/shapes";
import { onChange } from "$lib/queue/changes";
import { drawn } from "$lib/ready/first-screen";
import { freshen } from "$lib/ready/keep-ready";
import { fetchBench, keptBench, markSeen, newHandover, takeRepair } from "./my-bench";
import { keptProgress, NOTHING_KEPT } from "./progress";
import type { MyBench, SheetProgress } from "./shapes";

const progressOn = (bench: MyBench | null) =>
  keptProgress(bench?.in_hand.flatMap((row) => row.worksheets.map((sheet) => sheet.id)) ?? []);

/** My bench on the screen: from the phone first, then as the server has it. */
export class OpenBench {
  bench = $state.raw<MyBench | null>(null);
  /** The worksheets as they lie on this phone, with what it has not sent. */
  progress = $state.raw<ReadonlyMap<Id, SheetProgress>>(NOTHING_KEPT);
  /** Whether what is shown came from the server just now. */
  fresh = $state(false);
  trouble = $state<string | null>(null);
  asked = $state(false);
  /** A taking sent again keeps its id, by the repair. */
  #takes: Record<Id, Id> = {};
  #stop: () => void;

  constructor(readonly me: Id) {
    this.#stop = onChange(() => void this.#count());
  }

  close(): void {
    this.#stop();
  }

  async load(): Promise<void> {
    this.trouble = null;
    if (!this.bench) {
      await this.#show(await keptBench(this.me));
      await drawn();
    }
    try {
      await this.#show(await fetchBench(this.me));
      this.fresh = true;
    } catch (error) {
      this.fresh = false;
      if (!(error instanceof NoNetwork)) this.trouble = sentenceFor(error);
    }
    this.asked = true;
  }

  /** What is now in my hands lies on the phone before I walk to the bench. */
  async keep(): Promise<void> {
    await freshen({ atOnce: true });
    await this.#count();
  }

  async #show(bench: MyBench | null): Promise<void> {
    if (!bench) return;
    const progress = await progressOn(bench);
    // Both at once: the screen is drawn one time.
    [this.bench, this.progress] = [bench, progress];
  }

  async #count(): Promise<void> {
    this.progress = await progressOn(this.bench);
  }

  /** Takes a repair; says no with the sentence of who was quicker. */
  async take(repair: Id): Promise<boolean> {
    const id = (this.#takes[repair] ??= newHandover());
    let refused: string | null = null;
    try {
      await takeRepair(id, repair);
    } catch (error) {
      refused = sentenceFor(error);
    }
    await this.load();
    this.trouble = refused ?? this.trouble;
    if (refused !== null) return false;
    delete this.#takes[repair];
    void this.keep();
    return true;
  }

  async seen(mention: Id): Promise<void> {
    await markSeen(this.me, mention).catch((error: unknown) => (this.trouble = sentenceFor(error)));
    this.bench = await keptBench(this.me);
    await this.load();
  }
}
