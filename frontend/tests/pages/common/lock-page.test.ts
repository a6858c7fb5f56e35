import { fireEvent, render, screen } from "@testing-library/svelte";
import { beforeEach, expect, test, vi } from "vitest";
import { lock } from "$lib/session/lock.svelte";
import { session } from "$lib/session/session.svelte";
import LockPage from "../../../src/pages/common/LockPage.svelte";
import { tech } from "../../stand-ins/people";

const PEOPLE = [
  { id: "person-Anna", name: "Anna" },
  { id: "person-Ben", name: "Ben" },
];
let tried: { person: string; pin: string }[] = [];
let away = false;

/** Knows who has a PIN here, and that Ben's is 4071. */
function server(address: string, init?: { method?: string; body?: string }): Promise<Response> {
  if (away) return Promise.reject(new TypeError("no network"));
  const json = (value: unknown, status = 200) =>
    Promise.resolve(new Response(JSON.stringify(value), { status }));
  if (address.endsWith("csrf/")) return Promise.resolve(new Response(null, { status: 204 }));
  if (init?.method !== "POST") return json({ people: PEOPLE });
  const asked = JSON.parse(init.body ?? "") as { person: string; pin: string };
  tried.push(asked);
  if (asked.pin !== "4071")
    return json({ code: "wrong_pin", detail: "This PIN does not fit.", tries_left: 4 }, 403);
  return json({ ...tech("Ben"), wrong_tries: 0 });
}

beforeEach(() => {
  [tried, away] = [[], false];
  localStorage.clear();
  document.cookie = "csrftoken=token";
  vi.stubGlobal("fetch", server);
  vi.stubGlobal("scrollTo", () => undefined);
  Object.assign(session, { me: tech("Anna"), expired: false, revoked: false, reachable: true });
  Object.assign(lock, { closed: true, people: PEOPLE });
});

const key = (name: string) => fireEvent.keyDown(document.body, { key: name });
const typeKeys = async (keys: string[]) => {
  for (const one of keys) await key(one);
};
const tap = (name: string) => fireEvent.click(screen.getByRole("button", { name }));

test("whoever was here last only taps their digits", async () => {
  render(LockPage);

  for (const digit of ["8", "3", "0", "5"]) await tap(digit);
  await tap("Open");

  expect(await screen.findByRole("alert")).toHaveProperty(
    "textContent",
    "This PIN does not fit. 4 more tries, then it locks for a quarter of an hour or for good.",
  );
  expect(tried).toEqual([{ person: "person-Anna", pin: "8305" }]);
  expect(lock.closed).toBe(true);
});

test("somebody else chooses themselves and types on a keyboard", async () => {
  render(LockPage);
  await tap("Somebody else");
  await tap("Ben");

  await typeKeys(["4", "0", "9", "Backspace", "7", "1", "Enter"]);

  await vi.waitFor(() => expect(lock.closed).toBe(false));
  expect(tried).toEqual([{ person: "person-Ben", pin: "4071" }]);
  expect(session.me?.name).toBe("Ben");
});

test("how many digits are typed is said, never which; fewer than four open nothing", async () => {
  render(LockPage);

  await typeKeys(["4", "0", "7", "Enter"]);

  expect(await screen.findByText("3 digits typed")).toBeTruthy();
  expect(screen.getByRole("button", { name: "Open" })).toHaveProperty("disabled", true);
  expect(tried).toEqual([]);
});

test("the page below hears none of the keys", async () => {
  const heard: string[] = [];
  const listen = (event: KeyboardEvent) => heard.push(event.key);
  addEventListener("keydown", listen);
  render(LockPage);

  await typeKeys(["u", "n", "4"]);
  removeEventListener("keydown", listen);

  expect(heard).toEqual([]);
});

test("without network only the last one can go on, and is told what that means", async () => {
  away = true;
  render(LockPage);

  await fireEvent.click(await screen.findByRole("button", { name: "Go on as Anna" }));

  expect([lock.closed, session.expired, session.me?.name]).toEqual([false, true, "Anna"]);
  expect(tried).toEqual([]);
});

test("a phone on which nobody has a PIN asks for the password", () => {
  lock.people = [];
  vi.stubGlobal("fetch", () => Promise.resolve(new Response(JSON.stringify({ people: [] }))));

  render(LockPage);

  expect(screen.getByLabelText("Password")).toBeTruthy();
  expect(screen.queryByRole("group", { name: "PIN of Anna" })).toBeNull();
});
