import { byText } from "$lib/by-text";
import type { RepairRow } from "$lib/api/shapes";

export interface DeskLists {
  /** Ready: the customer can fetch it. */
  ready: RepairRow[];
  /** Leaves unrepaired, or was never fetched. */
  leaves: RepairRow[];
  /** Waits for the customer's word. */
  customer: RepairRow[];
  /** Promised for today or before, and not ready. */
  due: RepairRow[];
  rest: RepairRow[];
}

const LEAVES = new Set(["declined", "beyond_repair", "unclaimed"]);

/** What the desk looks at in the morning. Each repair stands in one list only. */
export function deskLists(rows: RepairRow[], today: string): DeskLists {
  const lists: DeskLists = { ready: [], leaves: [], customer: [], due: [], rest: [] };
  for (const row of rows) lists[listOf(row, today)].push(row);
  const byPromise = (a: RepairRow, b: RepairRow) => byText(a.due_on ?? "9", b.due_on ?? "9");
  for (const list of Object.values(lists)) (list as RepairRow[]).sort(byPromise);
  return lists;
}

function listOf(row: RepairRow, today: string): keyof DeskLists {
  if (row.stage === "ready") return "ready";
  if (LEAVES.has(row.stage)) return "leaves";
  if (row.stage === "awaiting_go_ahead") return "customer";
  return row.due_on && row.due_on <= today ? "due" : "rest";
}
