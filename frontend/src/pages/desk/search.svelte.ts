import { NoNetwork } from "$lib/api/call";

const WAIT_MS = 180;

/** Asks again a moment after the last key; only the answer to the last question is shown. */
export class Search<T> {
  found = $state.raw<T[]>([]);
  asked = $state("");
  busy = $state(false);
  trouble = $state.raw<unknown>(null);
  private timer: ReturnType<typeof setTimeout> | undefined;
  private turn = 0;

  constructor(
    private readonly ask: (scrap: string) => Promise<T[]>,
    private readonly shortest = 2,
  ) {}

  want(scrap: string): void {
    clearTimeout(this.timer);
    const text = scrap.trim();
    // A figure alone may be the whole number of a repair.
    if (text.length < this.shortest && !/^\d+$/.test(text)) return this.clear();
    if (text === this.asked && !this.trouble) return;
    this.timer = setTimeout(() => void this.run(text), WAIT_MS);
  }

  clear(): void {
    clearTimeout(this.timer);
    this.turn += 1;
    this.found = [];
    this.asked = "";
    this.busy = false;
    this.trouble = null;
  }

  async run(text: string): Promise<void> {
    const turn = ++this.turn;
    this.busy = true;
    try {
      const found = await this.ask(text);
      if (turn !== this.turn) return;
      this.found = found;
      this.trouble = null;
    } catch (error) {
      if (turn !== this.turn) return;
      this.found = [];
      this.trouble = error;
      if (!(error instanceof NoNetwork)) console.warn(error);
    }
    this.asked = text;
    this.busy = false;
  }
}
