import { LONGEST_SIDE } from "$lib/photos/shrink";
import type { ModelSheet } from "$lib/api/shapes";
import type { Pack } from "$lib/api/work-shapes";
import { benchDb } from "$lib/db/open";

/** The pictures that the steps of a pack show, each once. */
export function picturesIn(pack: Pack): string[] {
  return [...new Set(pack.steps.flatMap((step) => (step.pictures ?? []).map((one) => one.sha256)))];
}

/** The pictures that a model sheet shows. */
export function picturesOf(sheet: ModelSheet): string[] {
  const { pictures = [] } = sheet as { pictures?: { sha256: string }[] };
  return [...new Set(pictures.map((one) => one.sha256))];
}

/** Brings pictures to the phone. One that cannot be had now comes with the next try. */
export async function keepPictures(wanted: string[]): Promise<void> {
  const db = await benchDb();
  for (const sha256 of wanted) {
    if (await db.getKey("pictures", sha256)) continue;
    const blob = await fetched(sha256);
    if (blob) await db.put("pictures", { sha256, blob });
  }
}

async function fetched(sha256: string): Promise<Blob | null> {
  const address = `/api/v1/photos/${sha256}/?width=${String(LONGEST_SIDE)}`;
  const answer = await fetch(address, { credentials: "same-origin" }).catch(() => null);
  return answer?.ok ? answer.blob() : null;
}

/** Drops the pictures that no worksheet and no model sheet on the phone shows any more. */
export async function forgetPictures(): Promise<void> {
  const db = await benchDb();
  const showing = [...(await db.getAll("worksheets")), ...(await db.getAll("sheets"))];
  const shown = new Set(showing.flatMap((kept) => kept.pictures));
  for (const sha256 of await db.getAllKeys("pictures")) {
    if (!shown.has(sha256)) await db.delete("pictures", sha256);
  }
}
