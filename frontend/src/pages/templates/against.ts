import { get } from "$lib/api/call";
import type { Found, ModelSheetRow, Page, RepairRow } from "$lib/api/shapes";
import { t } from "$lib/words";
import type { Against } from "./trying.svelte";

/** Something a draft can be tried against, as it is offered. */
export interface Offer {
  key: string;
  what: string;
  against: Against;
}
type Named = { make: string; model: string; serial?: string };

/** Repairs, units and model sheets that fit a scrap. */
export async function offersFor(q: string): Promise<Offer[]> {
  const [found, sheets] = await Promise.all([
    get<{ results: Found[] }>("find/", { q }),
    get<Page<ModelSheetRow>>("model-sheets/", { q }),
  ]);
  return [...found.results.flatMap(foundOffer), ...sheets.results.map(sheetOffer)];
}

const MOST_TRIED = 5;

/** What stands in the shop now, the newest first: something to try on before anybody has chosen. */
export async function openRepairs(): Promise<Against[]> {
  const { results } = await get<Page<RepairRow>>("repairs/", { open: 1, page_size: MOST_TRIED });
  return results.map(({ id, number, unit }) => ({ name: nameWithNumber(unit, number), repair: id }));
}

const nameWithNumber = (unit: Named, number: string) => `${nameOf(unit)}, ${t("repair.number", { number })}`;
const nameOf = ({ make, model, serial }: Named) => [make, model, serial].filter(Boolean).join(" ");

function foundOffer(found: Found): Offer[] {
  if (found.kind === "customer") return [];
  if (found.kind === "unit") {
    const { id, code } = found.unit;
    return [{ key: id, what: t("try.unit", { code }), against: { name: nameOf(found.unit), unit: id } }];
  }
  const { id, number, unit } = found.repair;
  const against = { name: nameWithNumber(unit, number), repair: id };
  return [{ key: id, what: t("try.repair"), against }];
}

const sheetOffer = (sheet: ModelSheetRow): Offer => ({
  key: sheet.id,
  what: t("try.sheet"),
  against: { name: nameOf(sheet), sheet: sheet.id },
});
