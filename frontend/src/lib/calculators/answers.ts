// The calculators as the phone keeps them: the list, and the newest answers under the inputs that were asked.
import { byText } from "$lib/by-text";
import { call, NoNetwork, post } from "$lib/api/call";
import { benchDb, readMeta, writeMeta } from "$lib/db/open";
import type { KeptAnswer } from "$lib/db/schema";
import type { CalculatorAnswer, CalculatorRow, Given } from "./shapes";

export const MOST_KEPT = 300;
/** Milliseconds; on poor Wi-Fi what lies on the phone is better than a long wait. */
const PATIENCE = 8_000;
const LIST = "calculators";

/** Without network, and these inputs were never asked on this phone. */
export class NeverAsked extends Error {}

export interface KeptList {
  rows: CalculatorRow[];
  /** Tells one list from another without comparing all of it. */
  etag: string | null;
}

/** The list as it was last fetched. */
export async function keptCalculators(): Promise<KeptList | null> {
  return (await readMeta<KeptList>(LIST)) ?? null;
}

/** The list from the server; the browser asks with its ETag, so an unchanged one costs no more than the question. */
export async function fetchCalculators(known: KeptList | null = null): Promise<KeptList> {
  const { value, etag } = await call<{ results: CalculatorRow[] }>("GET", "calculators/");
  if (etag && etag === known?.etag) return known;
  const fresh = { rows: value.results, etag };
  await writeMeta(LIST, fresh);
  return fresh;
}

/** The answer to an input. `keptAt` says when it was asked, if there is no network now. Throws NeverAsked, ApiError. */
export async function askCalculator(
  name: string,
  given: Given,
): Promise<{ answer: CalculatorAnswer; keptAt: string | null }> {
  try {
    const answer = await post<CalculatorAnswer>(`calculators/${name}/`, given, { patience: PATIENCE });
    await keepAnswer(name, given, answer);
    return { answer, keptAt: null };
  } catch (error) {
    if (!(error instanceof NoNetwork)) throw error;
    const kept = await (await benchDb()).get("answers", keyOf(name, given));
    if (!kept) throw new NeverAsked();
    return { answer: kept.answer, keptAt: kept.asked_at };
  }
}

async function keepAnswer(name: string, given: Given, answer: CalculatorAnswer): Promise<void> {
  const asked_at = new Date().toISOString();
  const tx = (await benchDb()).transaction("answers", "readwrite");
  await tx.store.put({ key: keyOf(name, given), name, given, answer, asked_at });
  let spare = (await tx.store.count()) - MOST_KEPT;
  const oldest = tx.store.index("asked_at");
  for (let cursor = await oldest.openCursor(); cursor && spare > 0; spare--) {
    await cursor.delete();
    cursor = await cursor.continue();
  }
  await tx.done;
}

/** What was asked of a calculator on this phone, newest first. */
export async function askedBefore(name: string): Promise<KeptAnswer[]> {
  const kept = await (await benchDb()).getAllFromIndex("answers", "name", name);
  return kept.sort((a, b) => byText(b.asked_at, a.asked_at));
}

/** The same inputs have the same key, in whatever order they were filled in. */
export function keyOf(name: string, given: Given): string {
  return `${name} ${JSON.stringify(sorted(given))}`;
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (!value || typeof value !== "object") return value;
  const pairs = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(pairs.map(([key, inner]) => [key, sorted(inner)]));
}
