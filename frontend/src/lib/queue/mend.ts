import { dropDraft, keepDraft, readDraft } from "$lib/db/drafts";
import type { QueuedEntry } from "$lib/db/schema";
import { throwAway } from "./settle";

/** Where an entry was made. */
export function placeOf({ body }: QueuedEntry): string {
  if (!body.worksheet) return `/app/repairs/${body.repair}`;
  return `/app/worksheets/${body.worksheet}?step=${encodeURIComponent((body.step ?? "").split("/")[0] ?? "")}`;
}

interface Draft {
  key: string;
  text: string;
}
/** What was typed, and the draft of the field it was typed in; null: a photo or a choice has nothing to give back. */
export function draftOf({ body }: QueuedEntry): Draft | null {
  const { kind, value, repair, worksheet, step } = body;
  const typed = kind === "reading" ? value["as_typed"] : value["text"];
  if (typeof typed !== "string" || !typed) return null;
  if (!worksheet) return kind === "finding" || kind === "note" ? { key: `log/${repair}`, text: typed } : null;
  if (kind !== "reading" && kind !== "note") return null;
  return { key: `${kind}/${worksheet}/${step ?? ""}`, text: typed };
}

/** What was typed goes back to its field as a draft, and the refused entry goes. One that has nothing to give back stays. */
export async function backToDraft(one: QueuedEntry): Promise<void> {
  const draft = draftOf(one);
  if (!draft) return;
  const before = await readDraft<string>(draft.key);
  await keepDraft(draft.key, one.body.worksheet || !before ? draft.text : `${draft.text}\n${before}`);
  // Thrown away only once what it said is kept.
  await throwAway(one).catch(async (error: unknown) => {
    await (before === undefined ? dropDraft(draft.key) : keepDraft(draft.key, before));
    throw error;
  });
}
