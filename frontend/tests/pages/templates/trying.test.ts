import { beforeEach, expect, test, vi } from "vitest";
import { Trying, type Against } from "../../../src/pages/templates/trying.svelte";

const asked: unknown[] = [];
const MIXER: Against = { name: "Mixer", repair: "r1" };
const RADIO: Against = { name: "Radio", repair: "r2" };
const answer = (body: unknown, status: number) =>
  Promise.resolve(new Response(JSON.stringify(body), { status }));
const gate = { code: "gate", detail: "The model sheet names no rails." };

/** The server makes a pack for these repairs, and says no to every other. */
function serverThatTakes(...repairs: string[]) {
  vi.stubGlobal("fetch", (_url: string, { body }: { body: string }) => {
    const sent = JSON.parse(body) as { repair?: string };
    asked.push(sent);
    return repairs.includes(sent.repair ?? "") ? answer({ pack: { steps: [] } }, 200) : answer(gate, 409);
  });
}

beforeEach(() => {
  asked.length = 0;
  document.cookie = "csrftoken=t";
});

test("a job that is not for a unit nobody knows is tried on one that stands in the shop", async () => {
  serverThatTakes("r2");
  const trying = new Trying("d1", () => Promise.resolve([MIXER, RADIO]));
  await trying.recall();

  await trying.run();

  expect(trying.against).toEqual(RADIO);
  expect(trying.trouble).toBeNull();
  expect(asked).toEqual([{}, { repair: "r1" }, { repair: "r2" }]);
});

test("who has chosen a unit is told why it does not start, and no other is tried", async () => {
  serverThatTakes("r2");
  const trying = new Trying("d2", () => Promise.resolve([RADIO]));

  await trying.choose(MIXER);

  expect(trying.against).toEqual(MIXER);
  expect(trying.trouble).toBe("The model sheet names no rails.");
});

test("the shop is looked through once, not after every change", async () => {
  serverThatTakes();
  const others = vi.fn(() => Promise.resolve([MIXER]));
  const trying = new Trying("d3", others);
  await trying.recall();

  await trying.run();
  await trying.run();

  expect(others).toHaveBeenCalledTimes(1);
  expect(trying.trouble).toBe("The model sheet names no rails.");
});

test("where none in the shop will do, it stays with the unit nobody knows and says why that does not start", async () => {
  serverThatTakes();
  const trying = new Trying("d4", () => Promise.resolve([MIXER, RADIO]));
  await trying.recall();

  await trying.run();

  expect(trying.against).toEqual({ name: "" });
  expect(trying.trouble).toBe("The model sheet names no rails.");
});

test("who chooses while the shop is looked through is not passed over", async () => {
  serverThatTakes("r1");
  const trying: Trying = new Trying("d5", async () => {
    await trying.choose(MIXER);
    return [RADIO];
  });
  await trying.recall();

  await trying.run();

  expect(trying.against).toEqual(MIXER);
  expect(trying.trouble).toBeNull();
});
