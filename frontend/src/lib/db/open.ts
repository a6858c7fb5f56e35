import { openDB, type IDBPDatabase, type IDBPTransaction, type StoreNames } from "idb";
import { withoutCustomer } from "./privacy";
import type { BenchSchema, KeptPack, KeptWorksheet } from "./schema";

export type BenchDb = IDBPDatabase<BenchSchema>;
type Upgrading = IDBPTransaction<BenchSchema, StoreNames<BenchSchema>[], "versionchange">;

/** Each step brings the store of one version to the next. A step that has shipped is never changed. */
const UPGRADES: ((db: BenchDb, tx: Upgrading) => void | Promise<void>)[] = [
  function begin(db) {
    db.createObjectStore("meta");
    const queue = db.createObjectStore("queue", { keyPath: "n", autoIncrement: true });
    queue.createIndex("id", "id", { unique: true });
    queue.createIndex("record", "record");
    db.createObjectStore("entries", { keyPath: "id" }).createIndex("record", "record");
    db.createObjectStore("photos", { keyPath: "sha256" });
    db.createObjectStore("packs", { keyPath: "worksheet" }).createIndex("repair", "row.repair");
    db.createObjectStore("repairs", { keyPath: "id" }).createIndex("code", "code");
    db.createObjectStore("sent", { keyPath: "id" }).createIndex("acknowledged_at", "acknowledged_at");
    db.createObjectStore("drafts", { keyPath: "key" });
  },
  function keepAnswers(db) {
    const answers = db.createObjectStore("answers", { keyPath: "key" });
    answers.createIndex("name", "name");
    answers.createIndex("asked_at", "asked_at");
  },
  function keepPictures(db) {
    db.createObjectStore("pictures", { keyPath: "sha256" });
  },
  async function partWorksheetsFromPacks(db, tx) {
    db.createObjectStore("worksheets", { keyPath: "worksheet" });
    const packs = tx.objectStore("packs");
    packs.deleteIndex("repair");
    for (const old of (await packs.getAll()) as (KeptPack & KeptWorksheet)[]) {
      const { worksheet, sha256, row, pack } = old;
      await tx.objectStore("worksheets").put({ worksheet, sha256, row, pictures: [] });
      await packs.put({ worksheet, pack });
    }
  },
  async function forgetCustomers(db, tx) {
    db.createObjectStore("sheets", { keyPath: "id" });
    const repairs = tx.objectStore("repairs");
    for (const kept of await repairs.getAll()) {
      await repairs.put({ ...kept, repair: withoutCustomer(kept.repair) });
    }
    await tx.objectStore("meta").delete("my_repairs");
    await tx.objectStore("drafts").delete("book-in");
  },
];

/** Takes the store from one version to a later one, all or nothing: a step that fails undoes those before it, and the
 *  opening is refused. What was on the phone is then still there for a version of the app that can read it. */
export async function bringUp(db: BenchDb, tx: Upgrading, from: number, to: number): Promise<void> {
  try {
    for (const step of UPGRADES.slice(from, to)) await step(db, tx);
  } catch (error) {
    console.error(error);
    tx.abort();
    await tx.done.catch(() => undefined); // who opened it is told
  }
}

let opened: Promise<BenchDb> | undefined;

/** The phone's own store, opened once; after a failure it is tried anew. */
export function benchDb(): Promise<BenchDb> {
  opened ??= openDB<BenchSchema>("lampledger", UPGRADES.length, {
    upgrade(db, from, to, tx) {
      void bringUp(db, tx, from, to ?? UPGRADES.length);
    },
    blocking(_current, _blocked, event) {
      // A newer version of the app waits in another tab: make way for it.
      (event.target as IDBDatabase).close();
      opened = undefined;
    },
    terminated() {
      opened = undefined;
    },
  });
  opened.catch(() => (opened = undefined));
  return opened;
}

/** Only strict transactions survive a flat battery; the browser's default does not flush. */
export const STRICT = { durability: "strict" } as const;

export async function readMeta<T>(key: string): Promise<T | undefined> {
  return (await (await benchDb()).get("meta", key)) as T | undefined;
}

export async function writeMeta(key: string, value: unknown): Promise<void> {
  await (await benchDb()).put("meta", value, key);
}
