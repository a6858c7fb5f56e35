import { call, fetchCsrf, get, onCallOutcome, post, NoNetwork, ApiError } from "$lib/api/call";
import { uuid7 } from "$lib/api/ids";
import type { Me, MeSent } from "$lib/api/shapes";
import { benchDb, readMeta, writeMeta } from "$lib/db/open";
import { drawn } from "$lib/ready/first-screen";
import { useLanguage } from "$lib/words";
import { changeHands } from "./places";

/** Who is signed in and how the network fares. `me` outlives the network: it is kept on the phone. */
export const session = $state({
  me: null as Me | null,
  /** The server no longer knows our session; what is recorded waits until the same person signs in again. */
  expired: false,
  revoked: false,
  /** Whether the last call got through. */
  reachable: true,
  /** Plain HTTP: no queue, no camera, no worker. */
  plain: !globalThis.isSecureContext,
  ready: false,
});

onCallOutcome((event) => {
  if (event === "reached") session.reachable = true;
  if (event === "unreachable") session.reachable = false;
  if (event === "signed_out" && session.me) session.expired = true;
  if (event === "revoked") session.revoked = true;
});

/** Kept while the server has not heard yet that its session is over: somebody left without network. */
const OVER = "lampledger-session-over";
let ending = Promise.resolve();

export function isOver(): boolean {
  return localStorage.getItem(OVER) !== null;
}

export function markOver(over = true): void {
  if (over) localStorage.setItem(OVER, "yes");
  else localStorage.removeItem(OVER);
  // For the service worker, which sends only for somebody who is really there.
  void writeMeta("session_over", over).catch(() => undefined);
}

/** Ends the session at the server, now or, without network, at the next chance (`isOver`). */
export function endSession(): Promise<void> {
  markOver();
  ending = call("DELETE", "session/", { patience: 5_000 }).then(
    () => markOver(false),
    (error: unknown) => {
      // Any answer but silence says that there is no session any more.
      if (!(error instanceof NoNetwork)) markOver(false);
    },
  );
  return ending;
}

/** The name and id of this phone; the id is made once and stays. */
export async function thisDevice(): Promise<{ id: string; name: string }> {
  const known = await readMeta<{ id: string; name: string }>("device");
  if (known) return known;
  const made = { id: uuid7(), name: "" };
  await writeMeta("device", made);
  return made;
}

async function enter(sent: MeSent): Promise<void> {
  const me: Me = { ...sent, device: sent.device ?? (await thisDevice()) };
  session.me = me;
  session.expired = false;
  session.revoked = false;
  await writeMeta("me", JSON.parse(JSON.stringify(me)));
  await writeMeta("device", { id: me.device.id, name: me.device.name });
  await useLanguage(me.language);
}

/** Finds out who is signed in: first from the phone, so that the app starts without network, then from the server. */
export async function restoreSession(): Promise<void> {
  const known = await readMeta<Me>("me").catch(() => undefined);
  if (known) {
    session.me = known;
    await useLanguage(known.language);
  }
  session.ready = true;
  if (known) await drawn();
  await confirmSession();
}

/** Asks the server who is signed in. A session that was left is never taken up again, but ended. */
export async function confirmSession(): Promise<void> {
  if (isOver()) {
    session.expired = session.me !== null;
    return endSession();
  }
  try {
    const me = await get<MeSent>("session/");
    // Another person signed in by another tab: the screen must follow the cookie.
    await enter(me);
  } catch (error) {
    if (error instanceof NoNetwork || error instanceof ApiError) return;
    throw error;
  }
}

/** Begins a session by `path`, with a password or a PIN. Another person than before comes to their own place. */
export async function comeIn<M extends MeSent>(path: string, body: object): Promise<M> {
  await ending; // its answer takes the cookie away, which may be the new one by then
  await fetchCsrf();
  const me = await post<M>(path, body);
  markOver(false);
  if (session.me && session.me.id !== me.id) {
    const from = session.me.id;
    session.me = null;
    changeHands(from, me.id);
  }
  await enter(me);
  return me;
}

export async function signIn(username: string, password: string, deviceName: string): Promise<void> {
  const device = await thisDevice();
  await comeIn("session/", { username, password, device: { id: device.id, name: deviceName } });
}

/** Signs out here. What waits stays on the phone until its maker signs in again. */
export async function signOut(): Promise<void> {
  await endSession();
  await (await benchDb()).delete("meta", "me");
  session.me = null;
  session.expired = false;
}
