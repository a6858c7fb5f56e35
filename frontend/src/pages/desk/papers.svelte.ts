import { get, NoNetwork, post, sentenceFor } from "$lib/api/call";
import type { DocumentKind, PaperDocument } from "$lib/api/shapes";
import { t } from "$lib/words";

const ASK_EVERY_MS = 1000;
const PATIENCE = 45;
const A_WHILE = 15;

/** The newest paper of each kind that no other replaces, in the order of the list. */
export function currentPapers(papers: PaperDocument[]): PaperDocument[] {
  const replaced = papers.map((paper) => paper.replaces);
  return papers.filter((paper) => !replaced.includes(paper.id));
}

/** The papers of a repair, asked for again until none is being drawn. */
export class Papers {
  list = $state.raw<PaperDocument[]>([]);
  trouble = $state<string | null>(null);
  /** Looked long enough: the worker is slow or stands still. */
  tired = $state(false);
  private timer: ReturnType<typeof setTimeout> | undefined;
  private tries = 0;
  private patience = PATIENCE;
  /** Kinds that must appear before we stop asking: booked in, their rows come a moment later. */
  private expected: DocumentKind[] = [];
  /** Papers that were there before, and so are not what is waited for. */
  private before: string[] = [];

  constructor(private readonly repair: string) {}

  watch(known: PaperDocument[] = [], expected: DocumentKind[] = []): void {
    this.list = known;
    this.before = [];
    this.patience = PATIENCE;
    this.begin(expected);
  }

  /** Looks a while for a new paper of a kind, whose row comes a moment later. Nothing changed, none comes. */
  lookFor(kind: DocumentKind): void {
    this.before = this.list.map((paper) => paper.id);
    this.patience = A_WHILE;
    this.begin([kind]);
  }

  private begin(expected: DocumentKind[]): void {
    this.expected = expected;
    this.tries = 0;
    this.tired = false;
    this.next(0);
  }

  stop(): void {
    clearTimeout(this.timer);
  }

  async again(kind: DocumentKind): Promise<void> {
    this.trouble = null;
    try {
      await post(`repairs/${this.repair}/documents/`, { kind });
      this.watch(this.list, [kind]);
    } catch (error) {
      this.trouble = sentenceFor(error);
    }
  }

  get waiting(): boolean {
    const kinds = this.list.filter((paper) => !this.before.includes(paper.id)).map((paper) => paper.kind);
    return (
      this.list.some((paper) => paper.state === "drawing") ||
      this.expected.some((kind) => !kinds.includes(kind))
    );
  }

  private next(wait: number): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.ask(), wait);
  }

  private async ask(): Promise<void> {
    try {
      this.list = await get<PaperDocument[]>(`repairs/${this.repair}/documents/`);
      this.trouble = null;
    } catch (error) {
      this.trouble = error instanceof NoNetwork ? t("papers.offline") : sentenceFor(error);
    }
    this.tries += 1;
    if (!this.waiting && !this.trouble) return;
    if (this.tries >= this.patience) this.tired = this.patience === PATIENCE;
    else this.next(ASK_EVERY_MS);
  }
}
