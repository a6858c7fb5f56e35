import { benchDb } from "./open";

/** What was typed and not yet saved, under a key of the caller's: survives reload and a killed browser. */
export async function readDraft<T>(key: string): Promise<T | undefined> {
  return (await (await benchDb()).get("drafts", key))?.value as T | undefined;
}

export async function keepDraft(key: string, value: unknown): Promise<void> {
  // Proxies of the screen's state cannot be stored, plain values can.
  const plain: unknown = JSON.parse(JSON.stringify(value));
  await (await benchDb()).put("drafts", { key, value: plain, at: Date.now() });
}

export async function dropDraft(key: string): Promise<void> {
  await (await benchDb()).delete("drafts", key);
}
