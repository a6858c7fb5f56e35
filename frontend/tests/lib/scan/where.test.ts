import { beforeEach, describe, expect, it } from "vitest";
import type { Repair } from "$lib/api/shapes";
import type { Pack } from "$lib/api/work-shapes";
import { readCode } from "$lib/calc/codes";
import { benchDb, writeMeta } from "$lib/db/open";
import { nameOf, recentCodes, rememberCode } from "$lib/scan/known";
import { whereTo } from "$lib/scan/where";

const [UNIT, PIECE, OTHER] = ["NR7Q2K9A", "P4HB8Z0V", "NWMC63T5"];
const [PART, BIN, METER] = ["A4M3Z8MN", "BTRMN928", "MAYBXHR5"];
const repair = {
  id: "r1",
  unit: { code: UNIT, make: "Bellweather", model: "PS", pieces: [{ code: PIECE, name: "mains cord" }] },
} as unknown as Repair;
const pack = {
  repair: "r1",
  unit: { code: UNIT },
  steps: [{ id: "look" }, { id: "take", part: { code: PART, name: "Fuse", bin: "Wall 3" } }],
} as unknown as Pack;

async function keep(...stages: string[]) {
  const db = await benchDb();
  for (const [i, stage] of stages.entries()) {
    const worksheet = `w${String(i)}`;
    const row = { id: worksheet, repair: "r1", stage };
    await db.put("worksheets", { worksheet, sha256: "", row, pictures: [] } as never);
    await db.put("packs", { worksheet, pack });
  }
}
const from = (code: string, worksheet: string | null = null, role: "tech" | "desk" = "tech") =>
  whereTo(readCode(code), { role, worksheet });

beforeEach(async () => {
  const db = await benchDb();
  for (const store of ["meta", "worksheets", "packs", "repairs"] as const) await db.clear(store);
  await db.put("repairs", { id: "r1", code: UNIT, repair, kept_at: "2026-01-01" });
  await writeMeta("codes", new Map([[BIN, { code: BIN, kind: "bin", name: "Wall 3" }]]));
});

describe("where a code leads", () => {
  it("opens the only open worksheet of a unit, for who works at the bench", async () => {
    await keep("passed", "open");

    expect(await from(UNIT)).toEqual({ address: "/app/worksheets/w1", met: null });
    expect((await from(PIECE)).address).toBe("/app/worksheets/w1");
    expect((await from(UNIT, null, "desk")).address).toBe("/app/desk/repairs/r1");
  });
  it("opens the repair when there are two worksheets to choose from, or none", async () => {
    expect((await from(UNIT)).address).toBe("/app/repairs/r1");

    await keep("open", "open");

    expect((await from(UNIT)).address).toBe("/app/repairs/r1");
  });
  it("leads to the page of a code that the phone knows no repair of", async () => {
    expect((await from(OTHER)).address).toBe(`/app/t/${OTHER}`);
    expect((await from(METER)).address).toBe(`/app/t/${METER}`);
  });
  it("leads back into the worksheet with its own unit, a part it takes, and the bin that lies in", async () => {
    await keep("open");

    expect(await from(PIECE, "w0")).toEqual({ address: "/app/worksheets/w0", met: "unit" });
    expect(await from(PART, "w0")).toEqual({ address: "/app/worksheets/w0?step=take", met: "part" });
    expect(await from(BIN, "w0")).toEqual({ address: "/app/worksheets/w0?step=take", met: "part" });
  });
  it("says what else was scanned before it leaves the worksheet", async () => {
    await keep("open");

    expect(await from(OTHER, "w0")).toEqual({ address: `/app/t/${OTHER}?worksheet=w0`, met: null });
  });
});

describe("what the phone knows of a code", () => {
  it("names units, pieces and bins, and nothing it never saw", async () => {
    expect(await nameOf(UNIT)).toBe("Bellweather PS");
    expect(await nameOf(PIECE)).toBe("mains cord: Bellweather PS");
    expect(await nameOf(BIN)).toBe("Wall 3");
    expect(await nameOf(OTHER)).toBeNull();
  });
  it("keeps the six opened last, newest first and each once", async () => {
    for (const code of [UNIT, PIECE, OTHER, PART, BIN, METER, UNIT, "S00000Z3"])
      await rememberCode(code, null, 1);

    expect((await recentCodes()).map((one) => one.code)).toEqual(["S00000Z3", UNIT, METER, BIN, PART, OTHER]);
  });
});
