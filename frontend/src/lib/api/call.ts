import { currentLanguage, tMaybe, t } from "$lib/words";
import { noteServerTime } from "./clock.svelte";

export type Verb = "GET" | "POST" | "PUT" | "PATCH" | "DELETE";
export interface FieldError {
  field: string;
  code: string;
  detail: string;
}
export interface CallOptions {
  query?: Record<string, string | number | boolean | null | undefined>;
  body?: unknown;
  headers?: Record<string, string>;
  /** The version the change is based on, from `etag` of an earlier answer. */
  ifMatch?: string;
  signal?: AbortSignal;
  /** Milliseconds until we give up; 20 s when left out. */
  patience?: number;
}
export interface Answer<T> {
  value: T;
  status: number;
  etag: string | null;
}

/** Its message is a sentence for people. */
export class SaidError extends Error {}

/** The server said no, in its problem+json words. */
export class ApiError extends SaidError {
  constructor(
    readonly status: number,
    readonly code: string,
    detail: string,
    readonly fields: FieldError[] = [],
    /** What else the answer said, by name: for example the repair a unit is already here as. */
    readonly facts: Readonly<Record<string, unknown>> = {},
  ) {
    super(detail);
  }
  /** What was wrong with one field, for the message beside it. */
  field(name: string): string | null {
    return this.fields.find((error) => error.field === name)?.detail ?? null;
  }
}

/** No answer came: no network, server down, or too slow. */
export class NoNetwork extends SaidError {
  constructor() {
    super(t("error.network"));
  }
}

type Listener = (event: "reached" | "unreachable" | "signed_out" | "revoked") => void;
const listeners = new Set<Listener>();

/** Be told how calls fare; the session and the network line listen. */
export function onCallOutcome(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}
const tell: Listener = (event) => listeners.forEach((listener) => listener(event));

function csrfToken(): string {
  // Read when sending: signing in changes it.
  const found = /(?:^|;\s*)(?:__Host-)?csrftoken=([^;]+)/.exec(document.cookie);
  return found?.[1] ?? "";
}

function address(path: string, query: CallOptions["query"]): string {
  const given = Object.entries(query ?? {}).filter(([, value]) => value != null && value !== "");
  const search = new URLSearchParams(given.map(([key, value]) => [key, String(value)])).toString();
  return `/api/v1/${path}${search ? `?${search}` : ""}`;
}

async function ask(method: Verb, url: string, options: CallOptions): Promise<Response> {
  const headers: Record<string, string> = {
    Accept: "application/json",
    // Sentences in the language of the screens, whatever the browser's own is.
    "Accept-Language": currentLanguage(),
    ...options.headers,
  };
  let body: BodyInit | undefined;
  if (options.body instanceof Blob) {
    body = options.body;
    headers["Content-Type"] = options.body.type;
  } else if (options.body !== undefined) {
    body = JSON.stringify(options.body);
    headers["Content-Type"] = "application/json";
  }
  if (method !== "GET") headers["X-CSRFToken"] = csrfToken();
  if (options.ifMatch) headers["If-Match"] = options.ifMatch;
  const patience = AbortSignal.timeout(options.patience ?? 20_000);
  const signal = options.signal ? AbortSignal.any([options.signal, patience]) : patience;
  const began = Date.now();
  try {
    const answer = await fetch(url, {
      method,
      headers,
      body: body ?? null,
      signal,
      credentials: "same-origin",
    });
    noteServerTime(answer.headers.get("Date"), began);
    return answer;
  } catch (error) {
    if (options.signal?.aborted) throw error;
    tell("unreachable");
    throw new NoNetwork();
  }
}

interface Problem {
  code?: string;
  detail?: string;
  title?: string;
  errors?: FieldError[];
}

async function problem(answer: Response): Promise<ApiError> {
  const said = (await answer.json().catch(() => ({}))) as Problem;
  const code = said.code ?? `http_${String(answer.status)}`;
  const detail =
    said.detail ?? said.title ?? tMaybe(`error.${code}`, `${String(answer.status)} ${answer.statusText}`);
  return new ApiError(answer.status, code, detail, said.errors ?? [], { ...said });
}

/** Fetches the CSRF cookie; the shell comes from the phone's own cache, so no page ever sets it. */
export async function fetchCsrf(): Promise<void> {
  await ask("GET", "/api/v1/csrf/", {});
}

async function reach(method: Verb, url: string, options: CallOptions): Promise<Response> {
  if (method !== "GET" && !csrfToken()) await fetchCsrf();
  const first = await ask(method, url, options);
  if (first.status !== 403 || method === "GET") return first;
  const refusal = first.clone();
  const said = (await refusal.json().catch(() => null)) as Problem | null;
  // Only a stale token is worth a second try; a rule that said no will say no again.
  if (said && !/csrf/i.test(`${said.code ?? ""} ${said.detail ?? ""}`)) return first;
  await fetchCsrf();
  return ask(method, url, options);
}

/** Calls `/api/v1/<path>`. Throws ApiError when the server says no, NoNetwork when it cannot be reached. */
export async function call<T>(method: Verb, path: string, options: CallOptions = {}): Promise<Answer<T>> {
  const answer = await reach(method, address(path, options.query), options);
  if (answer.status >= 502 && answer.status <= 504) {
    tell("unreachable");
    throw new NoNetwork();
  }
  tell("reached");
  if (!answer.ok) {
    const error = await problem(answer);
    if (answer.status === 401 && error.code === "device_revoked") tell("revoked");
    else if (answer.status === 401 && error.code !== "wrong_login") tell("signed_out");
    throw error;
  }
  const text = await answer.text();
  const value = (text ? JSON.parse(text) : null) as T;
  return { value, status: answer.status, etag: answer.headers.get("ETag") };
}

export async function get<T>(path: string, query?: CallOptions["query"]): Promise<T> {
  return (await call<T>("GET", path, { query })).value;
}

export async function post<T>(path: string, body?: unknown, options: CallOptions = {}): Promise<T> {
  return (await call<T>("POST", path, { ...options, body: body ?? {} })).value;
}

/** A sentence for people about anything that was thrown. */
export function sentenceFor(error: unknown): string {
  if (error instanceof SaidError) return error.message;
  return t("error.unexpected", { detail: error instanceof Error ? error.message : String(error) });
}
