import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { benchDb } from "$lib/db/open";
import { drainSoon, keepDraining } from "$lib/queue/keep-draining";
import { keepEntry } from "$lib/queue/record";
import { queueState } from "$lib/queue/state.svelte";
import { session } from "$lib/session/session.svelte";
import { tech } from "../../stand-ins/people";

const anna = tech("anna");
/** When each try came, in milliseconds since the test began. */
let tries: number[] = [];
let stop: () => void = () => undefined;

/** The shop's end of the line: takes what is sent unless `drops` says otherwise. */
function shop(drops: (one: number) => boolean) {
  const began = Date.now();
  vi.stubGlobal("fetch", (_url: string, asked: RequestInit) => {
    tries.push(Date.now() - began);
    if (drops(tries.length)) return Promise.reject(new TypeError("no network"));
    const sent = JSON.parse(asked.body as string) as { operations: { id: string }[] };
    const results = sent.operations.map(({ id }, n) => ({ id, outcome: "applied", seq: n + 1 }));
    const server_time = new Date().toISOString();
    return Promise.resolve(Response.json({ results, newer: {}, worksheets: {}, server_time }));
  });
}
const finding = (text: string) =>
  keepEntry({ repair: "repair-1", kind: "finding", value: { finding: "other", text } }, anna);
const waiting = async () => (await (await benchDb()).getAll("queue")).length;
/** Until nothing is being sent: the store answers in real time. */
async function quiet() {
  for (let turn = 0; turn < 30 || queueState.draining; turn++) await new Promise(setImmediate);
}
/** Lets time go by step by step. */
async function pass(ms: number) {
  for (let gone = 0; gone < ms; gone += 500) {
    await vi.advanceTimersByTimeAsync(500);
    await quiet();
  }
}

beforeEach(async () => {
  document.cookie = "csrftoken=token";
  const db = await benchDb();
  for (const store of ["queue", "entries", "worksheets"] as const) await db.clear(store);
  await db.put("meta", anna, "me");
  session.me = anna;
  session.plain = false;
  tries = [];
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout", "setInterval", "clearInterval", "Date"] });
  stop = keepDraining();
});
afterEach(async () => {
  stop();
  await quiet();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("going on to send", () => {
  test("a line that carries nothing is tried at ever longer intervals, until a hint comes", async () => {
    shop(() => true);
    await finding("hums");

    await drainSoon();
    await pass(60_000);

    const soFar = tries.length;
    expect(soFar).toBeGreaterThan(3);
    expect(soFar).toBeLessThan(12);
    dispatchEvent(new Event("online"));
    await pass(500);
    expect(tries.length).toBe(soFar + 1);
    expect(await waiting()).toBe(1);
  });

  test("while a part gets through, a drop is followed by a short wait", async () => {
    shop((one) => one <= 5 || one === 7);
    for (let n = 0; n < 150; n++) await finding(`hums ${String(n)}`);

    await drainSoon();
    await pass(60_000);

    const afterDrop = (tries[7] ?? Infinity) - (tries[6] ?? 0);

    expect(afterDrop).toBeLessThanOrEqual(1_000);
    expect(await waiting()).toBe(0);
  });

  test("what another tab was sending when it was closed is sent by this one soon after", async () => {
    shop(() => false);
    await finding("hums");
    let close: () => void = () => undefined;
    const other = navigator.locks.request("queue", {}, () => new Promise<void>((done) => (close = done)));

    await drainSoon();
    await pass(10_000);
    expect(tries).toEqual([]);
    close();
    await other;
    await pass(3_500);

    expect(tries.length).toBeGreaterThan(0);
    expect(await waiting()).toBe(0);
  });
});
