import type { Draft } from "$lib/api/template-shapes";
import { json } from "./desk";

export function draft(given: Partial<Draft> = {}): Draft {
  return {
    id: "d1",
    slug: "fan",
    title: "Before",
    stage: "draft",
    version: 1,
    body: { title: "Before" } as Draft["body"],
    problems: [],
    based_on: null,
    newest: null,
    published_as: null,
    origin: "shop",
    created_by_name: "Max",
    updated_by_name: "Max",
    updated_at: "2026-03-02T09:00:00Z",
    submitted_by_name: null,
    submitted_at: null,
    submit_note: "",
    reviewed_by_name: null,
    reviewed_at: null,
    review_note: "",
    may: { edit: true, submit: true, review: false, publish: false },
    why_not_review: null,
    why_not_publish: null,
    ...given,
  };
}

/** A small server of one draft: a version, If-Match, and problem answers as ours. */
export class DraftServer {
  away = false;
  readonly puts: string[] = [];

  constructor(public draft: Draft) {}

  changeBy(name: string, body: Draft["body"]): void {
    this.draft = { ...this.draft, body, version: this.draft.version + 1, updated_by_name: name };
  }

  fetch = (url: string, init: RequestInit = {}): Promise<Response> => {
    if (this.away) return Promise.reject(new TypeError("no network"));
    if (url.includes("/csrf/")) return Promise.resolve(json({}));
    if (init.method !== "PUT") return Promise.resolve(this.answer());
    const match = new Headers(init.headers).get("If-Match") ?? "";
    if (match !== this.etag) return Promise.resolve(json({ code: "stale" }, 412));
    this.puts.push(match);
    this.changeBy("Max", (JSON.parse(init.body as string) as { body: Draft["body"] }).body);
    return Promise.resolve(this.answer());
  };

  private get etag(): string {
    return `"${String(this.draft.version)}"`;
  }
  private answer(): Response {
    return json(this.draft, 200, { ETag: this.etag });
  }
}
