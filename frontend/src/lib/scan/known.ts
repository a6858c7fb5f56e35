import type { Repair, Unit } from "$lib/api/shapes";
import { benchDb, readMeta, writeMeta } from "$lib/db/open";
import { keptCode } from "$lib/worksheet/codes";

/** What the phone can say of a code without asking anybody: "Make Model", or the name of a bin, part, meter, shelf. */
export async function nameOf(code: string): Promise<string | null> {
  const unit = await unitOf(code);
  if (!unit) return (await keptCode(code))?.name ?? null;
  const whole = `${unit.make} ${unit.model}`;
  const piece = unit.pieces.find((one) => one.code === code);
  return piece ? `${piece.name}: ${whole}` : whole;
}

/** The unit of its own or a piece's code, of a repair kept on the phone. */
export async function unitOf(code: string): Promise<Unit | null> {
  const all = await (await benchDb()).getAll("repairs");
  const fits = ({ unit }: Repair) => unit.code === code || unit.pieces.some((piece) => piece.code === code);
  return all.map((kept) => kept.repair).findLast(fits)?.unit ?? null;
}

/** A code that was opened on this phone, newest first. Kept here only. */
export interface RecentCode {
  code: string;
  name: string | null;
  at: number;
}
const RECENT = "recent_codes";
const MOST = 6;

export async function recentCodes(): Promise<RecentCode[]> {
  return (await readMeta<RecentCode[]>(RECENT)) ?? [];
}

/** Puts a code first among the recent ones. */
export async function rememberCode(code: string, name: string | null, at = Date.now()): Promise<void> {
  const others = (await recentCodes()).filter((one) => one.code !== code);
  await writeMeta(RECENT, [{ code, name, at }, ...others].slice(0, MOST));
}
