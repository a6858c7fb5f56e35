import { benchDb, readMeta } from "./open";

/** On a shared phone nobody finds, and saves under their own name, what another typed: each has drafts of their own. */
async function ownKey(key: string): Promise<string> {
  const me = await readMeta<{ id: string }>("me");
  return me ? `${me.id}/${key}` : key;
}

/** What was typed and not yet saved, under a key of the caller's: survives reload and a killed browser. */
export async function readDraft<T>(key: string): Promise<T | undefined> {
  const [db, own] = [await benchDb(), await ownKey(key)];
  // The bare key is that of a version in which a phone was one person's.
  return ((await db.get("drafts", own)) ?? (await db.get("drafts", key)))?.value as T | undefined;
}

export async function keepDraft(key: string, value: unknown): Promise<void> {
  // Proxies of the screen's state cannot be stored, plain values can.
  const plain: unknown = JSON.parse(JSON.stringify(value));
  const [db, own] = [await benchDb(), await ownKey(key)];
  await db.put("drafts", { key: own, value: plain, at: Date.now() });
}

export async function dropDraft(key: string): Promise<void> {
  const [db, own] = [await benchDb(), await ownKey(key)];
  for (const one of new Set([own, key])) await db.delete("drafts", one);
}
