// My bench as the server has it, kept on the phone for when there is no network.
import { call, get, NoNetwork, post } from "$lib/api/call";
import type { Id, Person, Repair } from "$lib/api/shapes";
import { uuid7 } from "$lib/api/ids";
import { readMeta, writeMeta } from "$lib/db/open";
import type { MyBench } from "./shapes";

const kept = (me: Id) => `my_bench/${me}`;
const unsaid = (me: Id) => `mentions_seen/${me}`;

/** The bench of one person as this phone read it last; a shared phone keeps one for each. */
export async function keptBench(me: Id): Promise<MyBench | null> {
  const bench = await readMeta<MyBench>(kept(me));
  return bench ? stillUnseen(bench, await readSeen(me)) : null;
}

/** The bench from the server, after it was told what was read meanwhile. Throws NoNetwork, ApiError. */
export async function fetchBench(me: Id): Promise<MyBench> {
  await sendSeen(me);
  const bench = await get<MyBench>("my-bench/");
  await writeMeta(kept(me), bench);
  return stillUnseen(bench, await readSeen(me));
}

/** Who works here, as this phone knows it: for names after an @, and to hand over to. */
export async function colleagues(me: Id): Promise<Person[]> {
  return (await readMeta<MyBench>(kept(me)))?.people ?? [];
}

// Notes that were read

/** A bench without the notes that were read on this phone, whether the server knows that yet or not. */
export function stillUnseen(bench: MyBench, seen: readonly Id[]): MyBench {
  const read = new Set(seen);
  return { ...bench, waiting: bench.waiting.filter((row) => !row.mention || !read.has(row.mention)) };
}

async function readSeen(me: Id): Promise<Id[]> {
  return (await readMeta<Id[]>(unsaid(me))) ?? [];
}

/** A note was read. Without network the phone remembers it and tells the server later. */
export async function markSeen(me: Id, mention: Id): Promise<void> {
  await writeMeta(unsaid(me), [...new Set([...(await readSeen(me)), mention])]);
  const bench = await keptBench(me);
  if (bench) await writeMeta(kept(me), bench);
  await sendSeen(me).catch((error: unknown) => {
    if (!(error instanceof NoNetwork)) throw error;
  });
}

async function sendSeen(me: Id): Promise<void> {
  const ids = await readSeen(me);
  if (!ids.length) return;
  await post("mentions/seen/", { ids: ids.slice(0, 500) });
  const told = new Set(ids.slice(0, 500));
  await writeMeta(
    unsaid(me),
    (await readSeen(me)).filter((id) => !told.has(id)),
  );
}

// Into other hands. These need the network: two people cannot both have a unit.

/** One taking or handing over; sent again it keeps its id, so that it happens once. */
export const newHandover = uuid7;

/** Take what nobody has, or what was handed to me; a manager names whose hands it is taken from. */
export function takeRepair(id: Id, repair: Id, from: Id | null = null, note = ""): Promise<Repair> {
  return post<Repair>(`repairs/${repair}/take/`, { id, taken_from: from, note });
}

/** Hand a repair to somebody, or put it back (`to` null) for whoever takes it. */
export async function handOver(
  id: Id,
  repair: Id,
  to: Id | null,
  note: string,
  ifMatch: string,
): Promise<Repair> {
  const answer = await call<Repair>("POST", `repairs/${repair}/hand-over/`, {
    body: { id, to, note },
    ifMatch,
  });
  return answer.value;
}
