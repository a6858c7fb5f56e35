import { dropDraft, keepDraft } from "$lib/db/drafts";
import type { QueuedEntry } from "$lib/db/schema";
import { throwAway } from "./settle";

/** Where an entry was made. */
export function placeOf({ body }: QueuedEntry): string {
  if (!body.worksheet) return `/app/repairs/${body.repair}`;
  return `/app/worksheets/${body.worksheet}?step=${encodeURIComponent((body.step ?? "").split("/")[0] ?? "")}`;
}

/** What was typed goes back to its step as a draft, and the refused entry goes. */
export async function backToDraft(one: QueuedEntry): Promise<void> {
  const { kind, value, worksheet, step } = one.body;
  const typed = kind === "reading" ? value["as_typed"] : kind === "note" ? value["text"] : undefined;
  const key = `${kind}/${worksheet ?? ""}/${step ?? ""}`;
  if (typed !== undefined && worksheet) await keepDraft(key, typed);
  // Thrown away only once what it said is kept.
  await throwAway(one).catch(async (error: unknown) => {
    await dropDraft(key);
    throw error;
  });
}
