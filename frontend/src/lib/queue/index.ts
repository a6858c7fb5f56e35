import { session } from "$lib/session/session.svelte";
import type { Entry } from "$lib/api/work-shapes";
import { drainSoon } from "./keep-draining";
import { keepEntry, sendEntryNow, type NewEntry } from "./record";

/** Records what a person did. When it returns, the entry is durable: on the phone, or over plain HTTP on the server. */
export async function record(given: NewEntry): Promise<Entry> {
  if (!session.me) throw new Error("nobody is signed in");
  const me = plainCopy(session.me);
  if (session.plain) return sendEntryNow(given, me);
  const entry = await keepEntry(given, me);
  void drainSoon();
  return entry;
}

/** A plain copy: what the screen holds are proxies, which the store cannot keep. */
function plainCopy<T>(value: T): T {
  return JSON.parse(JSON.stringify(value)) as T;
}
