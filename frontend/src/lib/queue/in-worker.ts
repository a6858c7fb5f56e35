// Sending from the service worker, where there is neither screen nor document: what waits goes out with the app closed.
import { readMeta } from "$lib/db/open";
import { drain, type Line } from "./drain";
import { sendPhoto, type Ask } from "./upload";
import { syncBody, type SyncAnswer } from "./wire";

interface CookieStore {
  get: (name: string) => Promise<{ value: string } | null>;
}
/** The server said no; what it says passes when waiting or signing in mends it. */
class Refused extends Error {
  constructor(
    readonly status: number,
    readonly code: string,
    message: string,
    readonly facts: Record<string, unknown>,
  ) {
    super(message);
  }
  get passes(): boolean {
    return this.status >= 500 || [401, 403, 408, 425, 429].includes(this.status);
  }
}
const gotNoAnswer = (error: unknown) => !(error instanceof Refused);
const passes = (error: unknown) => gotNoAnswer(error) || (error instanceof Refused && error.passes);

async function csrfToken(): Promise<string> {
  const { cookieStore } = globalThis as unknown as { cookieStore: CookieStore };
  const found = async () =>
    (await cookieStore.get("__Host-csrftoken")) ?? (await cookieStore.get("csrftoken"));
  if (!(await found())) await fetch("/api/v1/csrf/");
  return (await found())?.value ?? "";
}

async function request(
  method: string,
  path: string,
  given: Record<string, string>,
  body?: BodyInit,
  patience = 30_000,
) {
  const headers = new Headers(given);
  if (method !== "GET") headers.set("X-CSRFToken", await csrfToken());
  const answer = await fetch(`/api/v1/${path}`, {
    method,
    headers,
    body: body ?? null,
    signal: AbortSignal.timeout(patience),
  });
  const said = (await answer.json().catch(() => ({}))) as Record<string, unknown>;
  if (!answer.ok) throw new Refused(answer.status, String(said["code"]), String(said["detail"]), said);
  return said;
}

const ask: Ask = (method, path, { query, body, headers, patience }) =>
  request(method, `${path}?${new URLSearchParams(query).toString()}`, headers ?? {}, body, patience);

const line: Line = {
  async send(entries, known) {
    const headers = { "Content-Type": "application/json" };
    const sent = request("POST", "sync/", headers, JSON.stringify(syncBody(entries, known)));
    return (await sent.catch((error: unknown) => {
      if (passes(error)) return null;
      throw error;
    })) as SyncAnswer | null;
  },
  async upload(photo) {
    try {
      await sendPhoto(photo, { ask, isDrop: gotNoAnswer });
      return "done";
    } catch (error) {
      if (error instanceof Refused && !error.passes) return error;
      return "later";
    }
  },
};

/** Sends what waits for whoever is signed in on this phone. Throws when not all could be sent: the browser tries again. */
export async function sendInBackground(): Promise<void> {
  const me = await readMeta<{ id: string }>("me");
  if (!me || (await readMeta("session_over"))) return;
  if ((await drain(line, me.id)) !== "done") throw new Error("not all could be sent");
}
