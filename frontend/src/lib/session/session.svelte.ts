import { call, fetchCsrf, get, onCallOutcome, post, NoNetwork, ApiError } from "$lib/api/call";
import { uuid7 } from "$lib/api/ids";
import type { Me, MeSent } from "$lib/api/shapes";
import { benchDb, readMeta, writeMeta } from "$lib/db/open";
import { useLanguage } from "$lib/words";

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
  await confirmSession();
}

export async function confirmSession(): Promise<void> {
  try {
    const me = await get<MeSent>("session/");
    // Another person signed in by another tab: the screen must follow the cookie.
    await enter(me);
  } catch (error) {
    if (error instanceof NoNetwork || error instanceof ApiError) return;
    throw error;
  }
}

export async function signIn(username: string, password: string, deviceName: string): Promise<void> {
  const device = await thisDevice();
  await fetchCsrf();
  const me = await post<MeSent>("session/", {
    username,
    password,
    device: { id: device.id, name: deviceName },
  });
  await enter(me);
}

/** Signs out here. What waits stays on the phone until its maker signs in again. */
export async function signOut(): Promise<void> {
  await call("DELETE", "session/").catch(() => undefined);
  await (await benchDb()).delete("meta", "me");
  session.me = null;
  session.expired = false;
}
