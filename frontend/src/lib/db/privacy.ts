import type { Repair, RepairRow } from "$lib/api/shapes";

/** What a phone keeps of a row of repairs: not whose it is. */
export function rowWithoutCustomer<T extends RepairRow>(row: T): T {
  return { ...row, customer_name: "" };
}

/** What a phone keeps of a repair: not whose it is, how to reach them, nor what they said of money. */
export function withoutCustomer(repair: Repair): Repair {
  const { status_link: _link, ...rest } = repair;
  return { ...rowWithoutCustomer(rest), customer: null, estimate: null };
}
