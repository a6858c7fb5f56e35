import { fireEvent, render, screen } from "@testing-library/svelte";
import { beforeEach, expect, test, vi } from "vitest";
import { queueState } from "$lib/queue/state.svelte";
import { session } from "$lib/session/session.svelte";
import { formatBytes } from "$lib/words/sizes";
import LeaveSheet from "../../../src/pages/common/LeaveSheet.svelte";
import { tech } from "../../stand-ins/people";

beforeEach(() => {
  vi.stubGlobal("fetch", () => Promise.resolve(new Response(null, { status: 204 })));
  Object.assign(session, { me: tech("Anna"), expired: false, revoked: false, reachable: true });
  Object.assign(queueState, { waiting: 0, refused: 0, photos: 0, bytes: 0, draining: false });
});

test("who leaves hears how many entries and photos are unsent, how large, and how many were refused", () => {
  Object.assign(queueState, { waiting: 12, refused: 1, photos: 3, bytes: 4_260_000 });

  render(LeaveSheet, { open: true });

  const said = screen.getByRole("dialog").textContent.replace(/\s+/g, " ");
  expect(said).toContain("13 entries have not been sent.");
  expect(said).toContain("3 photos are among them.");
  expect(said).toContain("4.3 MB in all.");
  expect(said).toContain("1 of them was refused by the server");
  expect(screen.getByRole("button", { name: "Send it first" })).toBeTruthy();
});

test("leaving all the same keeps what waits on the phone", async () => {
  Object.assign(queueState, { waiting: 2, bytes: 900 });
  render(LeaveSheet, { open: true });

  await fireEvent.click(screen.getByRole("button", { name: "Sign out all the same" }));

  await vi.waitFor(() => expect(session.me).toBeNull());
  expect(queueState.waiting).toBe(2);
});

test("on a withdrawn phone it is offered as a file, for nobody can come back", () => {
  session.revoked = true;
  Object.assign(queueState, { waiting: 2, bytes: 900 });

  render(LeaveSheet, { open: true });

  expect(screen.getByRole("button", { name: "Save what waits as a file" })).toBeTruthy();
  expect(screen.queryByRole("button", { name: "Send it first" })).toBeNull();
});

test.each([
  [0, "1 kB"],
  [900, "1 kB"],
  [840_400, "840 kB"],
  [999_999, "1,000 kB"],
  [3_249_000, "3.2 MB"],
])("%i bytes are said as %s", (bytes, said) => {
  expect(formatBytes(bytes)).toBe(said);
});
