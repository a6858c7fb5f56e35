// What `GET my-bench/` answers. tests/lib/api compares it with the server's own schema.
import type { Id, Person, RepairRow } from "$lib/api/shapes";

/** How far an open worksheet has come, in required steps. `next`: the title of the first that is open. */
export interface SheetProgress {
  id: Id;
  repair: Id;
  title: string;
  done: number;
  of: number;
  failed: number;
  next: string | null;
}
export interface BenchRow extends Omit<RepairRow, "customer_name"> {
  is_late: boolean;
  is_due_today: boolean;
  /** What is in the way of a repair that waits for others. */
  why: string | null;
  worksheets: SheetProgress[];
}
export type WaitingKind =
  | "handed"
  | "note"
  | "sign_off"
  | "test_failed"
  | "go_ahead"
  | "parts"
  | "answer"
  | "parts_here"
  | "close_up";
export interface Waiting {
  kind: WaitingKind;
  repair: { id: Id; number: string; unit: string; code: string };
  at: string | null;
  by_name: string;
  /** What somebody wrote about it. */
  text: string;
  mention?: Id;
  worksheet?: Id;
  step?: string;
}
export interface MyBench {
  read_at: string;
  in_hand: BenchRow[];
  waiting: Waiting[];
  off_bench: BenchRow[];
  free: BenchRow[];
  people: Person[];
}
