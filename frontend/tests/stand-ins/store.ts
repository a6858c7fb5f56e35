import { openDB, type IDBPDatabase } from "idb";
import { bringUp, type BenchDb } from "$lib/db/open";

/** The phone's store as an earlier version of the app left it. */
export async function storeOfVersion(version: number): Promise<IDBPDatabase> {
  const store: unknown = await openDB("lampledger", version, {
    upgrade(db, from, to, tx) {
      void bringUp(db as unknown as BenchDb, tx as never, from, to ?? version);
    },
  });
  return store as IDBPDatabase;
}
