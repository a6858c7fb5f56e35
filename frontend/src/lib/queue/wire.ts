import type { Entry } from "$lib/api/work-shapes";

export interface OperationResult {
  id: string;
  outcome: "applied" | "repeated" | "refused";
  seq?: number | null;
  code?: string | null;
  detail?: string | null;
}
export interface SyncAnswer {
  results: OperationResult[];
  newer: Record<string, Entry[]>;
  worksheets: Record<string, { stage: string; last_seq: number }>;
  server_time: string;
}
export type Known = Record<string, number>;

/** What the server is told about an entry: not what it will add itself. */
function operation(entry: Entry) {
  const { received_at: _received, seq: _seq, hash: _hash, ...body } = entry;
  return { id: entry.id, kind: "entry", version: 1, body };
}

/** The body of one sync request. */
export function syncBody(entries: Entry[], known: Known, deviceId?: string) {
  const device_id = deviceId ?? entries[0]?.device_id;
  return { format: 1, device_id, known, operations: entries.map(operation) };
}
