// Everything for my repairs on the phone before I walk to the bench, and what is still missing.
import { byText } from "$lib/by-text";
import { ApiError, get } from "$lib/api/call";
import type { MyPacks, Repair } from "$lib/api/shapes";
import { fetchCalculators, keptCalculators } from "$lib/calculators/answers";
import { benchDb, STRICT } from "$lib/db/open";
import { announceChange } from "$lib/queue/changes";
import { hasCodes, keepCodes } from "./codes";
import { forgetPictures, keepPictures } from "./pictures";
import { fetchBenchLog, fetchWorksheet, loadModelSheet, loadRepair, myRepairs, openedLast } from "./store";

/** Brings what my repairs need, and forgets what is no longer mine and has nothing unsent. Throws NoNetwork. */
export async function keepMyBench(): Promise<void> {
  const mine = new Set((await myRepairs()).map((row) => row.id));
  const held = await keepMyPacks();
  for (const repair of new Set([...mine, ...held])) await passOver(keepForBench(repair));
  await forgetRepairs(new Set([...mine, ...held]));
  await forgetPictures();
  await keepCodes();
  await fetchCalculators(await keptCalculators());
  announceChange();
}

/** One repair as the bench needs it: itself, its log, its model sheet with pictures. */
export async function keepForBench(id: string): Promise<void> {
  const { repair } = await loadRepair(id);
  await fetchBenchLog(id);
  if (repair.unit.model_sheet) await keepModelSheet(repair.unit.model_sheet);
}

/** One thing that is gone, or no longer mine to see, stops nothing else. */
async function passOver(work: Promise<unknown>): Promise<void> {
  await work.catch((error: unknown) => {
    if (!(error instanceof ApiError)) throw error;
  });
}

async function keepModelSheet(id: string): Promise<void> {
  await passOver(loadModelSheet(id));
  await keepPictures((await (await benchDb()).get("sheets", id))?.pictures ?? []);
}

/** Keeps the worksheets that its owner works on or opened last, and forgets others with nothing unsent. Answers whose. */
export async function keepMyPacks(): Promise<Set<string>> {
  const { worksheets } = await get<MyPacks>("my-packs/");
  const db = await benchDb();
  for (const wanted of worksheets) {
    const kept = await db.get("worksheets", wanted.id);
    const fresh = kept?.sha256 === wanted.pack_sha256 && kept.row.last_seq >= wanted.last_seq;
    if (!fresh) await fetchWorksheet(wanted.id);
    await keepPictures((await db.get("worksheets", wanted.id))?.pictures ?? []);
  }
  await forgetWorksheets(new Set([...worksheets.map((one) => one.id), ...(await openedLast())]));
  return new Set(worksheets.map((one) => one.repair));
}

async function forgetWorksheets(wanted: Set<string>): Promise<void> {
  const db = await benchDb();
  for (const id of await db.getAllKeys("worksheets")) {
    if (wanted.has(id) || (await db.countFromIndex("queue", "record", id))) continue;
    const tx = db.transaction(["worksheets", "packs", "entries"], "readwrite", STRICT);
    await tx.objectStore("worksheets").delete(id);
    await tx.objectStore("packs").delete(id);
    for (const key of await tx.objectStore("entries").index("record").getAllKeys(id)) {
      await tx.objectStore("entries").delete(key);
    }
    await tx.done;
  }
}

/** How many other repairs stay as they were last seen: a scan of a unit nearby still finds it. */
const OTHERS_KEPT = 30;

async function forgetRepairs(wanted: Set<string>): Promise<void> {
  const db = await benchDb();
  const all = await db.getAll("repairs");
  const others = all.filter((kept) => !wanted.has(kept.id));
  others.sort((a, b) => byText(b.kept_at, a.kept_at));
  for (const { id } of others.slice(OTHERS_KEPT)) await db.delete("repairs", id);
  const left = new Set((await db.getAll("repairs")).map((kept) => kept.repair.unit.model_sheet));
  for (const id of await db.getAllKeys("sheets")) if (!left.has(id)) await db.delete("sheets", id);
}

export type Missing = "repair" | "log" | "worksheet" | "sheet" | "pictures";

/** What the phone lacks to work on a repair without network; nothing: it is ready for the bench. */
export async function missingFor(id: string): Promise<Missing[]> {
  const db = await benchDb();
  const kept = await db.get("repairs", id);
  if (!kept) return ["repair"];
  const missing: Missing[] = kept.log_at ? [] : ["log"];
  const sheets = await Promise.all(openSheets(kept.repair).map((one) => db.get("worksheets", one)));
  const packs = await Promise.all(openSheets(kept.repair).map((one) => db.getKey("packs", one)));
  if ([...sheets, ...packs].includes(undefined)) missing.push("worksheet");
  const model = kept.repair.unit.model_sheet;
  const sheet = model ? await db.get("sheets", model) : undefined;
  if (model && !sheet) missing.push("sheet");
  const pictures = [...sheets, sheet].flatMap((one) => one?.pictures ?? []);
  if (!(await haveAll(pictures))) missing.push("pictures");
  return missing;
}

const openSheets = (repair: Repair) =>
  repair.worksheets.filter((row) => row.stage === "open").map((row) => row.id);

async function haveAll(pictures: string[]): Promise<boolean> {
  const db = await benchDb();
  const found = await Promise.all(pictures.map((one) => db.getKey("pictures", one)));
  return !found.includes(undefined);
}

export type MissingHere = "app" | "decoder" | "codes" | "calculators";

/** What the phone lacks whatever the repair: the app itself, the scanner's decoder, codes, calculators. */
export async function missingHere(): Promise<MissingHere[]> {
  const missing: MissingHere[] = [];
  const kept = "caches" in globalThis ? await (await caches.open("shell")).keys() : [];
  if (!kept.some(({ url }) => url.includes("/app/?kept="))) missing.push("app");
  if (!kept.some(({ url }) => url.endsWith(".wasm"))) missing.push("decoder");
  if (!(await hasCodes())) missing.push("codes");
  if (!(await keptCalculators())) missing.push("calculators");
  return missing;
}
