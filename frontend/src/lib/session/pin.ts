import { call, get } from "$lib/api/call";
import type { MeSent } from "$lib/api/shapes";
import { keepPeople, type PersonHere } from "./lock.svelte";
import { comeIn } from "./session.svelte";

export const SHORTEST_PIN = 4;
export const LONGEST_PIN = 8;

/** Asks who can open this phone by PIN, and keeps the answer for the next time. */
export async function fetchPeopleHere(): Promise<PersonHere[]> {
  const { people } = await get<{ people: PersonHere[] }>("session/pin/");
  keepPeople(people);
  return people;
}

/** Comes in by PIN. Answers how many wrong ones were tried in this name before. */
export async function openByPin(person: string, pin: string): Promise<number> {
  const me = await comeIn<MeSent & { wrong_tries: number }>("session/pin/", { person, pin });
  return me.wrong_tries;
}

export async function setPin(pin: string, password: string): Promise<void> {
  await call("PUT", "session/pin/", { body: { pin, password } });
  await fetchPeopleHere();
}

export async function dropPin(): Promise<void> {
  await call("DELETE", "session/pin/");
  await fetchPeopleHere();
}
