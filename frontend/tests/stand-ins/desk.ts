import type { Me, Repair, RepairRow, Shop } from "$lib/api/shapes";
import { tech } from "./people";

export const shop: Shop = { ...tech("dora").shop, diagnosis_fee_minor: 3500 };

export function desk(): Me {
  return { ...tech("dora"), role: "desk", shop };
}

export function row(given: Partial<RepairRow> = {}): RepairRow {
  return {
    id: "repair-1",
    number: "7",
    stage: "on_the_bench",
    stage_since: "2026-01-02T10:00:00Z",
    stage_words: "on the bench since Friday",
    unit: { code: "N0000000", make: "Brindlow", model: "E9", serial: "12" },
    customer_name: "Lena Okafor",
    due_on: null,
    assigned_to: null,
    age_days: 3,
    waiting_for: null,
    ...given,
  };
}

export function repair(given: Partial<Repair> = {}): Repair {
  const pieces = [
    { code: "P1", name: "mains cord", state: "here" },
    { code: "P2", name: "case", state: "handed_back" },
  ];
  return {
    ...row(),
    version: 3,
    booked_in_at: "2026-01-01T10:00:00Z",
    booked_in_by: "dora",
    complaint: "Hums",
    last_worked: "",
    last_supply: "",
    set_for: null,
    use_at: { volt: 230, hz: 50, country: "DE" },
    bench_supply: { volt: 230, hz: 50 },
    damage: "",
    allowed: {
      diagnosis_fee_minor: 3500,
      spending_limit_minor: 0,
      visible_changes: "ask",
      sounds: "none",
    },
    unit: {
      id: "unit-1",
      code: "N0000000",
      make: "Brindlow",
      model: "E9",
      serial: "12",
      model_sheet: null,
      hazards: [],
      set_for_volt: null,
      place: null,
      do_not_power: true,
      pieces,
    },
    customer: { id: "customer-1", name: "Lena Okafor", phone: "", email: "" },
    events: [],
    allowed_stages: [],
    worksheets: [],
    documents: [],
    photos: [],
    estimate: null,
    history: [],
    labour_minutes: 0,
    elapsed_days: 1,
    working_days: 1,
    ...given,
  };
}

/** Answers calls by "METHOD path" and keeps what was sent. A handler that throws is a lost network. */
export function fakeServer(handlers: Record<string, (body: unknown, headers: Headers) => Response>) {
  const sent: { what: string; body: unknown; headers: Headers }[] = [];
  const fetch = (url: string, init: RequestInit = {}): Promise<Response> => {
    const path = url.replace("/api/v1/", "").split("?")[0] ?? "";
    const what = `${init.method ?? "GET"} ${path}`;
    const body: unknown = typeof init.body === "string" ? JSON.parse(init.body) : init.body;
    const headers = new Headers(init.headers);
    sent.push({ what, body, headers });
    const handler = handlers[what];
    if (!handler) return Promise.resolve(json({ results: [], next: null, previous: null }));
    return new Promise((resolve) => {
      resolve(handler(body, headers));
    });
  };
  return { fetch, sent, of: (what: string) => sent.filter((one) => one.what === what) };
}

export function json(value: unknown, status = 200, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify(value), { status, headers });
}
