import type { Role } from "$lib/api/shapes";
import type { Pack, Step } from "$lib/api/work-shapes";
import type { Code } from "$lib/calc/codes";
import { keptCode } from "$lib/worksheet/codes";
import { keptRepairOf, keptWorksheet, keptWorksheets } from "$lib/worksheet/store";
import { repairAddress } from "../../pages/addresses";
import { unitOf } from "./known";

/** Where a code leads, from what the phone knows. `met`: it is what the open worksheet is about, or asks for. */
export interface Where {
  address: string;
  met: "unit" | "part" | null;
}

/** `worksheet`: scanned while working it; what belongs to it leads back into it. */
export async function whereTo(
  { kind, text }: Code,
  { role, worksheet = null }: { role: Role | undefined; worksheet?: string | null },
): Promise<Where> {
  const isUnit = kind === "unit" || kind === "piece";
  if (worksheet) {
    const inside = await insideWorksheet(text, worksheet);
    if (inside) return inside;
    // Something else than was asked for: say so before leaving the worksheet.
    return { address: `/app/t/${text}?worksheet=${worksheet}`, met: null };
  }
  const repair = isUnit ? await keptRepairOf(text) : null;
  const address = repair ? await ofRepair(repair, role) : `/app/t/${text}`;
  return { address, met: null };
}

/** The repair's only open worksheet, for whoever works at the bench; else the repair. */
async function ofRepair(repair: string, role: Role | undefined): Promise<string> {
  const open = (await keptWorksheets()).filter(({ row }) => row.repair === repair && row.stage === "open");
  const [only] = open;
  return role === "tech" && only && open.length === 1
    ? `/app/worksheets/${only.worksheet}`
    : repairAddress(repair, role);
}

async function insideWorksheet(code: string, worksheet: string): Promise<Where | null> {
  const pack = (await keptWorksheet(worksheet))?.pack;
  if (!pack) return null;
  const here = `/app/worksheets/${worksheet}`;
  if ((await unitOf(code))?.code === pack.unit.code || code === pack.unit.code)
    return { address: here, met: "unit" };
  const step = await stepFor(code, pack);
  return step && { address: `${here}?step=${encodeURIComponent(step.id)}`, met: "part" };
}

/** The step that takes this part, or one that lies in this bin. */
async function stepFor(code: string, pack: Pack): Promise<Step | null> {
  const bin = (await keptCode(code))?.name;
  const fits = ({ part }: Step) => part && (part.code === code || (bin !== undefined && part.bin === bin));
  return pack.steps.find(fits) ?? null;
}
