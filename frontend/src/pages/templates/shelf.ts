import type { ShelfRow } from "$lib/api/template-shapes";

/** Templates whose title, purpose or short name holds all the words typed. */
export function fitting(rows: ShelfRow[], typed: string): ShelfRow[] {
  const words = typed.toLowerCase().split(/\s+/).filter(Boolean);
  const text = (row: ShelfRow) => `${row.title} ${row.summary} ${row.slug}`.toLowerCase();
  return rows.filter((row) => words.every((word) => text(row).includes(word)));
}

/** How many drafts wait for somebody's second look. */
export function waitingForReview(rows: ShelfRow[]): number {
  return rows.flatMap((row) => row.drafts).filter((draft) => draft.stage === "in_review").length;
}
