// Rows and columns of readings: a ramp and a table alike. A cell's entries stand under `<step>/<row>/<column>`.
import type { AlongBand, Entry, GridColumn, GridRow, Step } from "$lib/api/work-shapes";
import { bandAt, type Limits } from "$lib/calc/judge";
import { numberOn } from "./effective";

type Standing = Map<string, Entry[]>;

/** Where the next reading goes. */
export interface Cell {
  row: string;
  column: string;
}
/** One cell as it stands: its limits and what was read. */
export interface GridPoint extends Limits {
  row: string;
  /** What the variable transformer is set to, in volts (per cent where no volts are given); the row's number in a table. */
  x: number;
  y: number | null;
  verdict: string | null;
}

export function isGrid(step: Pick<Step, "kind">): boolean {
  return step.kind === "ramp" || step.kind === "table";
}

export function cellId(step: Pick<Step, "id">, row: string, column: string): string {
  return `${step.id}/${row}/${column}`;
}

/** The cell an entry stands in; null where it is of another step. */
export function cellOf(step: Pick<Step, "id">, name: string | null | undefined): Cell | null {
  if (!name?.startsWith(`${step.id}/`)) return null;
  const [row, column] = name.slice(step.id.length + 1).split("/");
  return row && column ? { row, column } : null;
}

/** What a cell is called: its row and its column. */
export function cellTitle(step: Step, cell: Cell, rowTitle: (row: GridRow) => string): string {
  const row = step.rows?.find((one) => one.id === cell.row);
  const column = step.columns?.find((one) => one.key === cell.column);
  return row && column ? `${rowTitle(row)}, ${column.title}` : "";
}

export function cellIds(step: Step): string[] {
  return (step.rows ?? []).flatMap((row) =>
    (step.columns ?? []).map((column) => cellId(step, row.id, column.key)),
  );
}

function ownLimits(column: GridColumn, index: number): Limits {
  const [low, high] = column.band?.rows[index] ?? [null, null];
  return { low, high };
}

/** The limits of one cell: of its own row, or along the measured output of the variable transformer. Where that was not
 *  measured, or lies beyond the first and last row, those of its own row hold. */
export function cellLimits(step: Step, column: GridColumn, index: number, standing: Standing): Limits {
  const own = ownLimits(column, index);
  const row = step.rows?.[index];
  const measured = row && column.band?.along ? numberOn(standing, cellId(step, row.id, "set")) : null;
  return measured === null ? own : (bandAt(pointsOf(step, column), measured) ?? own);
}

function pointsOf(step: Step, column: GridColumn): AlongBand["points"] {
  const points = (step.rows ?? []).map((row, index): AlongBand["points"][number] => {
    const { low, high } = ownLimits(column, index);
    return [row.set_volt ?? NaN, low, high];
  });
  return points.sort((a, b) => a[0] - b[0]);
}

/** One column: its limits and what was read, row by row. */
export function gridPoints(step: Step, column: GridColumn, standing: Standing): GridPoint[] {
  return (step.rows ?? []).map((row, index) => {
    const id = cellId(step, row.id, column.key);
    const x = row.set_volt ?? row.set_percent ?? index;
    const verdict = standing.get(id)?.at(-1)?.verdict ?? null;
    return {
      row: row.id,
      x,
      y: numberOn(standing, id),
      verdict,
      ...cellLimits(step, column, index, standing),
    };
  });
}

/** Whether a grid has all it needs: every required cell, and where it blocks, a pass wherever there are limits. */
export function isGridSettled(step: Step, standing: Standing): boolean {
  const needed = (step.columns ?? []).filter((column) => column.required !== false);
  return (step.rows ?? []).every((row, index) =>
    needed.every((column) => {
      const last = standing.get(cellId(step, row.id, column.key))?.at(-1);
      return last !== undefined && (!mustPass(step, column, index) || last.verdict === "pass");
    }),
  );
}

function mustPass(step: Step, column: GridColumn, index: number): boolean {
  const { low, high } = ownLimits(column, index);
  return step.blocks === true && (low !== null || high !== null);
}

/** How many cells are still to be read. */
export function openCells(step: Step, standing: Standing): number {
  const needed = (step.columns ?? []).filter((one) => one.required !== false);
  const all = (step.rows ?? []).flatMap((row) => needed.map((one) => cellId(step, row.id, one.key)));
  return all.filter((id) => !standing.has(id)).length;
}

/** The cells whose reading is beyond its limits, as their row and column are called. */
export function failedCells(step: Step, standing: Standing, rowTitle: (row: GridRow) => string): string[] {
  return (step.rows ?? []).flatMap((row) =>
    (step.columns ?? [])
      .filter((column) => standing.get(cellId(step, row.id, column.key))?.at(-1)?.verdict === "fail")
      .map((column) => `${rowTitle(row)}, ${column.title}`),
  );
}

/** The first cell without a reading, row by row; null when all are there. */
export function firstOpenCell(step: Step, standing: Standing): Cell | null {
  for (const row of step.rows ?? []) {
    const needed = (step.columns ?? []).filter((one) => one.required !== false);
    const column = needed.find((one) => !standing.has(cellId(step, row.id, one.key)));
    if (column) return { row: row.id, column: column.key };
  }
  return null;
}
