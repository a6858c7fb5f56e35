import { call } from "$lib/api/call";
import { readMeta, writeMeta } from "$lib/db/open";

/** What a printed code of the shop's own things names; units and pieces are found by `keptRepairOf`. */
export interface KeptCode {
  code: string;
  kind: "bin" | "part" | "meter" | "shelf";
  name: string;
}
const CODES = "codes";

/** Brings the codes of bins, parts, meters and shelves to the phone. The browser asks with the ETag of the last answer. */
export async function keepCodes(): Promise<void> {
  const { value } = await call<{ codes: KeptCode[] }>("GET", "codes/", { patience: 30_000 });
  await writeMeta(CODES, new Map(value.codes.map((one) => [one.code, one])));
}

async function keptCodes(): Promise<Map<string, KeptCode> | undefined> {
  return readMeta<Map<string, KeptCode>>(CODES);
}

/** What a code names as far as the phone knows, without network; null when it does not. */
export async function keptCode(code: string): Promise<KeptCode | null> {
  return (await keptCodes())?.get(code) ?? null;
}

export async function hasCodes(): Promise<boolean> {
  return (await keptCodes()) !== undefined;
}
