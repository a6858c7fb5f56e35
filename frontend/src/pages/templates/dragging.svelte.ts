import type { Path, TemplateBody } from "$lib/templates/body";
import { pathFrom, placeDropped } from "./moving";

/** How near to the edge of the list, in pixels, it begins to scroll, and how far with each move. */
const EDGE = 48;
const SCROLL = 12;

/** A step taken by its handle and moved over the others, by mouse, pen or finger. What it would land before is `to`. */
export class Dragging {
  from = $state.raw<Path | null>(null);
  over = $state<string | null>(null);
  half = $state<"upper" | "lower">("upper");
  to = $state.raw<Path | null>(null);
  #list: HTMLElement | null = null;

  begin(event: PointerEvent & { currentTarget: HTMLElement }, from: Path): void {
    if (event.button !== 0) return;
    event.preventDefault();
    event.currentTarget.setPointerCapture(event.pointerId);
    this.from = from;
    this.#list = event.currentTarget.closest("[data-scrolls]");
  }

  move(event: PointerEvent, body: TemplateBody): void {
    if (!this.from) return;
    this.#scroll(event.clientY);
    const row = document.elementFromPoint(event.clientX, event.clientY)?.closest<HTMLElement>("[data-path]");
    if (!row) return;
    const { top, height } = row.getBoundingClientRect();
    this.half = event.clientY < top + height / 2 ? "upper" : "lower";
    this.over = row.dataset["path"] ?? null;
    this.to = placeDropped(body, this.from, pathFrom(this.over), this.half);
  }

  /** Where it was let go: what it moves from and before what. null: nowhere else. */
  end(): { from: Path; to: Path } | null {
    const { from, to } = this;
    this.cancel();
    return from && to ? { from, to } : null;
  }

  cancel(): void {
    this.from = null;
    this.over = null;
    this.to = null;
  }

  #scroll(y: number): void {
    const box = this.#list?.getBoundingClientRect();
    if (!box) return;
    if (y < box.top + EDGE) this.#list?.scrollBy(0, -SCROLL);
    if (y > box.bottom - EDGE) this.#list?.scrollBy(0, SCROLL);
  }
}
