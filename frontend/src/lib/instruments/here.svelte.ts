import { readMeta, writeMeta } from "$lib/db/open";

export interface BenchHere {
  id: string;
  name: string;
}

/** The bench this phone or PC stands at, until somebody carries it elsewhere and says so. null: at none. */
export const here = $state({ bench: null as BenchHere | null });
const KEY = "bench_here";

export async function rememberBench(): Promise<void> {
  here.bench = (await readMeta<BenchHere | null>(KEY)) ?? null;
}

export async function standAt(bench: BenchHere | null): Promise<void> {
  await writeMeta(KEY, bench);
  here.bench = bench;
}
