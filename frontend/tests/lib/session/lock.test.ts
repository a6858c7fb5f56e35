import { beforeEach, expect, test, vi } from "vitest";
import { benchDb, readMeta, writeMeta } from "$lib/db/open";
import { keepEntry } from "$lib/queue/record";
import { go } from "$lib/router/router.svelte";
import { closeLock, goOnWithoutNetwork, lock, openLock, watchLock } from "$lib/session/lock.svelte";
import { openByPin } from "$lib/session/pin";
import { confirmSession, isOver, session, signOut } from "$lib/session/session.svelte";
import { tech } from "../../stand-ins/people";

/** The part of the server that knows sessions and PINs. */
class Door {
  signedIn: string | null = "Anna";
  away = false;
  calls: string[] = [];
  sent: string[] = [];

  answer = (input: string, init?: { method?: string; body?: string }): Promise<Response> => {
    if (this.away) return Promise.reject(new TypeError("no network"));
    const call = `${init?.method ?? "GET"} ${input.replace("/api/v1/", "")}`;
    this.calls.push(call);
    return Promise.resolve(this.say(call, init?.body ?? "{}"));
  };

  private say(call: string, body: string): Response {
    const json = (value: unknown, status = 200) => new Response(JSON.stringify(value), { status });
    if (call === "GET csrf/") return new Response(null, { status: 204 });
    if (call === "POST session/pin/") return this.open(JSON.parse(body) as { person: string; pin: string });
    if (!this.signedIn) return json({ code: "not_signed_in" }, 401);
    if (call === "GET session/") return json(tech(this.signedIn));
    if (call === "DELETE session/") {
      this.signedIn = null;
      return new Response(null, { status: 204 });
    }
    const { operations } = JSON.parse(body) as { operations: { id: string }[] };
    this.sent.push(...operations.map((one) => one.id));
    const results = operations.map((one, index) => ({ id: one.id, outcome: "applied", seq: index + 1 }));
    return json({ results, newer: {}, worksheets: {}, server_time: new Date().toISOString() });
  }

  private open({ person, pin }: { person: string; pin: string }): Response {
    const refusal = { code: "wrong_pin", detail: "no", tries_left: 4 };
    if (pin !== "4071") return new Response(JSON.stringify(refusal), { status: 403 });
    this.signedIn = person.replace("person-", "");
    return new Response(JSON.stringify({ ...tech(this.signedIn), wrong_tries: 2 }));
  }
}

let door: Door;

beforeEach(async () => {
  door = new Door();
  vi.stubGlobal("fetch", door.answer);
  vi.stubGlobal("scrollTo", () => undefined);
  localStorage.clear();
  document.cookie = "csrftoken=token";
  Object.assign(session, { me: tech("Anna"), expired: false, revoked: false, reachable: true, plain: false });
  await writeMeta("me", tech("Anna"));
  const db = await benchDb();
  for (const store of ["queue", "entries"] as const) await db.clear(store);
  lock.closed = false;
  go("/app/worksheets/w1?step=rail");
});

const note = () => keepEntry({ repair: "r1", kind: "note", value: { text: "hums" } }, tech("Anna"));
const ended = () => vi.waitFor(() => expect(isOver()).toBe(false));

test("locking sends what waits under its maker's name, and only then ends the session", async () => {
  const entry = await note();

  closeLock();
  await ended();

  expect(lock.closed).toBe(true);
  expect(door.sent).toEqual([entry.id]);
  expect(door.calls.at(-1)).toBe("DELETE session/");
  expect(door.signedIn).toBeNull();
});

test("who was here before finds the same place, and what waits goes out under their name", async () => {
  closeLock();
  await ended();

  const tried = await openByPin("person-Anna", "4071");
  openLock();

  expect([session.me?.name, session.expired, tried]).toEqual(["Anna", false, 2]);
  expect(location.pathname + location.search).toBe("/app/worksheets/w1?step=rail");
  expect(lock.closed).toBe(false);
});

test("a wrong PIN changes nothing", async () => {
  closeLock();
  await ended();

  await expect(openByPin("person-Ben", "1111")).rejects.toMatchObject({ facts: { tries_left: 4 } });

  expect([lock.closed, session.me?.name]).toEqual([true, "Anna"]);
});

test("another person comes to their own place, and back again each finds theirs", async () => {
  await openByPin("person-Ben", "4071");
  const firstOfBen = location.pathname;
  go("/app/scan");

  await openByPin("person-Anna", "4071");
  const ofAnna = location.pathname + location.search;
  await openByPin("person-Ben", "4071");

  expect([firstOfBen, ofAnna, location.pathname]).toEqual([
    "/app/",
    "/app/worksheets/w1?step=rail",
    "/app/scan",
  ]);
  expect(session.me?.name).toBe("Ben");
});

test("what somebody left unsent stays theirs when another opens the phone", async () => {
  door.away = true;
  await note();
  closeLock();
  await vi.waitFor(() => expect(session.reachable).toBe(false));
  door.away = false;

  await openByPin("person-Ben", "4071");

  const waiting = await (await benchDb()).getAll("queue");
  expect(waiting.map((one) => one.maker)).toEqual(["person-Anna"]);
  expect(door.sent).toEqual([]);
});

test("without network the lock still closes, and the session is ended as soon as there is one", async () => {
  door.away = true;
  closeLock();
  await vi.waitFor(() => expect(session.reachable).toBe(false));
  expect([lock.closed, isOver(), door.signedIn]).toEqual([true, true, "Anna"]);

  door.away = false;
  const stop = watchLock();
  dispatchEvent(new Event("online"));
  await ended();
  stop();

  expect(door.signedIn).toBeNull();
});

test("who goes on without network records, but nothing is sent until they come in", async () => {
  door.away = true;
  closeLock();
  await vi.waitFor(() => expect(session.reachable).toBe(false));
  goOnWithoutNetwork();
  const entry = await note();
  door.away = false;

  await confirmSession();
  const before = [session.me?.name, session.expired, door.signedIn, [...door.sent]];
  await openByPin("person-Anna", "4071");
  closeLock();
  await ended();

  expect(before).toEqual(["Anna", true, null, []]);
  expect(door.sent).toEqual([entry.id]);
});

test("who signs out without network is not signed in again by the session that was left", async () => {
  door.away = true;
  await signOut();
  door.away = false;

  await confirmSession();

  expect([session.me, door.signedIn, isOver()]).toEqual([null, null, false]);
  expect(await readMeta("me")).toBeUndefined();
});

test("a lock closed in another tab closes here, and whoever opens it there is in here too", async () => {
  const stop = watchLock();
  const told = (value: string | null) => {
    if (value) localStorage.setItem("lampledger-locked", value);
    else localStorage.removeItem("lampledger-locked");
    dispatchEvent(new StorageEvent("storage", { key: "lampledger-locked", newValue: value }));
  };

  told("yes");
  const closed = lock.closed;
  door.signedIn = "Ben";
  told(null);
  await vi.waitFor(() => expect(lock.closed).toBe(false));
  stop();

  expect([closed, session.me?.name]).toEqual([true, "Ben"]);
});
