import { byText } from "$lib/by-text";
import { call, get, NoNetwork } from "$lib/api/call";
import type { ModelSheet, Page, Repair, RepairRow, WorksheetRow } from "$lib/api/shapes";
import type { Entry, Meter, Pack } from "$lib/api/work-shapes";
import { benchDb, readMeta, STRICT, writeMeta } from "$lib/db/open";
import { rowWithoutCustomer, withoutCustomer } from "$lib/db/privacy";
import type { KeptWorksheet, QueuedEntry } from "$lib/db/schema";
import { announceChange } from "$lib/queue/changes";
import { keepPictures, picturesIn, picturesOf } from "./pictures";

export interface OpenWorksheet extends KeptWorksheet {
  pack: Pack;
  /** What stands in the record or waits to. */
  entries: Entry[];
  /** What the shop refused: shown where it happened, counted nowhere. */
  refused: QueuedEntry[];
}

/** A worksheet as it lies on the phone; null when it was never fetched. `before`: as it was read last, with its pack. */
export async function keptWorksheet(
  id: string,
  before?: OpenWorksheet | null,
): Promise<OpenWorksheet | null> {
  const db = await benchDb();
  const kept = await db.get("worksheets", id);
  if (!kept) return null;
  const pack = before?.sha256 === kept.sha256 ? before.pack : (await db.get("packs", id))?.pack;
  return pack ? { ...kept, pack, ...(await partedEntries(id)) } : null;
}

/** The entries of a record, and apart from them those that the shop refused. */
export async function partedEntries(record: string): Promise<Pick<OpenWorksheet, "entries" | "refused">> {
  const db = await benchDb();
  const queued = await db.getAllFromIndex("queue", "record", record);
  const refused = queued.filter((one) => one.state === "refused");
  const out = new Set(refused.map((one) => one.id));
  const all = await db.getAllFromIndex("entries", "record", record);
  return { entries: all.filter((entry) => !out.has(entry.id)), refused };
}

/** So many worksheets that were opened here last stay on the phone, whoever has the repair in hand: two may work on one. */
const OPENED_KEPT = 10;

export async function openedLast(): Promise<string[]> {
  return (await readMeta<string[]>("opened_worksheets")) ?? [];
}

export async function noteOpened(id: string): Promise<void> {
  const others = (await openedLast()).filter((one) => one !== id);
  await writeMeta("opened_worksheets", [id, ...others].slice(0, OPENED_KEPT));
}

type Detail = WorksheetRow & { entries: Entry[] };

/** Brings a worksheet and its pack to the phone, or what is new of it. */
export async function fetchWorksheet(id: string): Promise<void> {
  const { entries, ...row } = await get<Detail>(`worksheets/${id}/`);
  const db = await benchDb();
  const kept = await db.get("worksheets", id);
  const isKept = kept?.sha256 === row.pack_sha256;
  const pack = isKept ? null : (await call<Pack>("GET", `worksheets/${id}/pack/`)).value;
  const pictures = pack ? picturesIn(pack) : (kept?.pictures ?? []);
  const tx = db.transaction(["worksheets", "packs", "entries"], "readwrite", STRICT);
  await tx.objectStore("worksheets").put({ worksheet: id, sha256: row.pack_sha256, row, pictures });
  if (pack) await tx.objectStore("packs").put({ worksheet: id, pack });
  for (const entry of entries) await tx.objectStore("entries").put(entry);
  await tx.done;
  announceChange();
  // The steps can be worked while their pictures come.
  void keepPictures(pictures);
}

/** A repair from the server, or as it was last seen. `keptAt` says when that was; null: fresh. */
export async function loadRepair(
  id: string,
): Promise<{ repair: Repair; etag: string | null; keptAt: string | null }> {
  try {
    const answer = await call<Repair>("GET", `repairs/${id}/`, { patience: 8_000 });
    await keepRepair(answer.value);
    return { repair: answer.value, etag: answer.etag, keptAt: null };
  } catch (error) {
    const kept = await (await benchDb()).get("repairs", id);
    if (!(error instanceof NoNetwork) || !kept) throw error;
    return { repair: kept.repair, etag: null, keptAt: kept.kept_at };
  }
}

async function keepRepair(whole: Repair): Promise<void> {
  const repair = withoutCustomer(whole);
  const tx = (await benchDb()).transaction("repairs", "readwrite");
  const before = await tx.store.get(repair.id);
  const kept_at = new Date().toISOString();
  await tx.store.put({ ...before, id: repair.id, code: repair.unit.code, repair, kept_at });
  await tx.done;
}

/** A model sheet from the server, or as it lies on the phone. */
export async function loadModelSheet(id: string): Promise<ModelSheet> {
  try {
    const { value } = await call<ModelSheet>("GET", `model-sheets/${id}/`, { patience: 8_000 });
    await (await benchDb()).put("sheets", { id, sheet: value, pictures: picturesOf(value) });
    return value;
  } catch (error) {
    const kept = await (await benchDb()).get("sheets", id);
    if (!(error instanceof NoNetwork) || !kept) throw error;
    return kept.sheet;
  }
}

/** The repair of a unit's or piece's code, from what lies on the phone. */
export async function keptRepairOf(code: string): Promise<string | null> {
  const all = await (await benchDb()).getAll("repairs");
  const fits = ({ repair }: { repair: Repair }) =>
    repair.unit.code === code || repair.unit.pieces.some((piece) => piece.code === code);
  return all.filter(fits).at(-1)?.id ?? null;
}

/** The bench log of a repair: fetched when there is a network, always readable. */
export async function fetchBenchLog(repair: string): Promise<void> {
  const log = await get<{ last_seq: number; entries: Entry[] }>(`records/${repair}/log/`);
  const tx = (await benchDb()).transaction(["entries", "repairs"], "readwrite", STRICT);
  for (const entry of log.entries) await tx.objectStore("entries").put(entry);
  const kept = await tx.objectStore("repairs").get(repair);
  if (kept) await tx.objectStore("repairs").put({ ...kept, log_at: new Date().toISOString() });
  await tx.done;
  announceChange();
}

export async function keptEntries(record: string): Promise<Entry[]> {
  return (await partedEntries(record)).entries;
}

export async function keptWorksheets(): Promise<KeptWorksheet[]> {
  return (await benchDb()).getAll("worksheets");
}

/** The meters of the shop, as a worksheet of this repair on the phone knows them. */
export async function keptMeters(repair: string): Promise<Meter[]> {
  const kept = (await keptWorksheets()).find((one) => one.row.repair === repair);
  return (kept && (await (await benchDb()).get("packs", kept.worksheet))?.pack.meters) ?? [];
}

/** What is in hand on my bench, promised soonest first; from the phone when there is no network. */
export async function myRepairs(): Promise<RepairRow[]> {
  try {
    const found = await get<Page<RepairRow>>("repairs/", { mine: 1, open: 1 });
    const rows = [...found.results].sort((a, b) => byText(a.due_on ?? "9", b.due_on ?? "9"));
    await writeMeta("my_repairs", rows.map(rowWithoutCustomer));
    return rows;
  } catch (error) {
    if (!(error instanceof NoNetwork)) throw error;
    return (await readMeta<RepairRow[]>("my_repairs")) ?? [];
  }
}
