import { get } from "$lib/api/call";
import type { CodeFound, Customer, Found, ModelSheetRow, Page, RepairRow, Unit } from "$lib/api/shapes";
import type { Suggestion } from "../parts/suggestion";

export type UnitOffer = { kind: "unit"; unit: Unit } | { kind: "sheet"; sheet: ModelSheetRow };
const MOST = 6;

export async function findCustomers(scrap: string): Promise<Customer[]> {
  return (await get<Page<Customer>>("customers/", { q: scrap })).results.slice(0, MOST);
}

export function customerSuggestion({ id, name, phone, email }: Customer): Suggestion {
  return { key: id, label: name, more: [phone, email].filter(Boolean).join(", ") };
}

/** Units in the book and model sheets that fit a scrap: a code, a serial number, make and model. */
export async function findUnits(scrap: string): Promise<UnitOffer[]> {
  const [found, sheets] = await Promise.all([
    get<{ results: Found[] }>("find/", { q: scrap }),
    get<Page<ModelSheetRow>>("model-sheets/", { q: scrap }),
  ]);
  const units = found.results.flatMap((one) =>
    one.kind === "unit" ? [{ kind: "unit" as const, unit: one.unit }] : [],
  );
  const known = sheets.results.map((sheet) => ({ kind: "sheet" as const, sheet }));
  return [...known.slice(0, 4), ...units.slice(0, 4)];
}

/** The units a customer brought before, each once, newest first. */
export async function unitsOf(customer: Customer): Promise<RepairRow["unit"][]> {
  const rows = (await get<Page<RepairRow>>("repairs/", { q: customer.name })).results;
  const own = rows.filter((row) => row.customer_name === customer.name).map((row) => row.unit);
  return [...new Map(own.map((unit) => [unit.code, unit])).values()].slice(0, MOST);
}

export async function unitByCode(code: string): Promise<Unit | null> {
  return (await get<CodeFound>(`codes/${code}/`)).unit ?? null;
}
