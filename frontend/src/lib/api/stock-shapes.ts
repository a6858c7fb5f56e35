// Parts, orders, money and the manager's first page.
import type { Id } from "./ids";

export interface Bin {
  code: string;
  name: string;
  on_hand: number;
}
export interface Part {
  id: Id;
  code: string;
  name: string;
  unit_price_minor: number;
  on_hand: number;
  reserved: number;
  on_order: number;
  reorder_level: number;
  order_up_to: number;
  supplier_name: string;
  bins: Bin[];
}
export interface Order {
  id: Id;
  number: number;
  supplier: string;
  stage: "draft" | "approved" | "sent" | "received" | "dropped";
  lines: { part: string; name: string; quantity: number; received?: number; price_minor: number }[];
  total_minor: number;
  created_at: string;
  sent_at: string | null;
}
export interface Account {
  lines: { text: string; quantity: number; price_minor: number; total_minor: number }[];
  tax_minor?: number;
  total_minor: number;
  paid_minor: number;
  due_minor: number;
}
export interface Board {
  stages: { stage: string; label: string; repairs: BoardRepair[] }[];
  stuck: { id: Id; number: number; unit: string; stage: string; since: string; why: string }[];
  turnaround: {
    median_days: number | null;
    p85_days: number | null;
    text: string;
    closed: number;
    open: number;
    weeks: { week: string; closed: number; median_days: number | null }[];
  };
  parts_used: { month: string; template: string; part: string; name: string; quantity: number }[];
  low_parts: Part[];
  orders: Order[];
  stuck_work: number;
}
export interface BoardRepair {
  id: Id;
  number: number;
  unit: string;
  age_days: number;
  due_on: string | null;
  overdue: boolean;
  why: string | null;
}
/** Work in the background that failed for good. */
export interface StuckWork {
  id: Id;
  kind: string;
  created_at: string;
  dead_at: string;
  tries: number;
  last_error: string;
}
