import { openDB, type IDBPDatabase, type IDBPTransaction, type StoreNames } from "idb";
import type { BenchSchema } from "./schema";

export type BenchDb = IDBPDatabase<BenchSchema>;
type Upgrading = IDBPTransaction<BenchSchema, StoreNames<BenchSchema>[], "versionchange">;

/** Each step brings the store of one version to the next. A step that has shipped is never changed. */
const UPGRADES: ((db: BenchDb, tx: Upgrading) => void)[] = [
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
];

let opened: Promise<BenchDb> | undefined;

/** The phone's own store, opened once. */
export function benchDb(): Promise<BenchDb> {
  opened ??= openDB<BenchSchema>("lampledger", UPGRADES.length, {
    upgrade(db, from, _to, tx) {
      for (const step of UPGRADES.slice(from)) step(db, tx);
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
