import type { Expression, Ramp } from "$lib/templates/body";

/** One row of a ramp for each of a list, each field of the row from where it comes. */
export interface EachRow {
  over: string;
  as: string;
  fields: Record<string, Expression>;
}

/** The rows of a ramp where each comes from a row of a list; null where they come otherwise. */
export function eachRow({ each }: Expression): EachRow | null {
  if (!each?.take.object || each.when) return null;
  return { over: each.over, as: each.as, fields: each.take.object };
}

export function fromEachRow({ over, as, fields }: EachRow): Expression {
  return { each: { over, as, take: { object: fields } } };
}

/** The settings, in per cent of the supply, where they are typed; null where they come otherwise. */
export function typedSettings({ value, list }: Expression): number[] | null {
  if (list) return list.length ? null : [];
  if (!Array.isArray(value)) return null;
  const settings = value.map((row: { set_percent?: unknown } | null) => row?.set_percent);
  return settings.every((one) => typeof one === "number") ? settings : null;
}

export const fromSettings = (settings: number[]): Expression => ({
  value: settings.map((set_percent) => ({ set_percent })),
});

/** A ramp with one field of its rows said anew, under a name of its own; `undefined` takes it away. */
export function withRowField(ramp: Ramp, name: string, said: Expression | undefined): Ramp {
  const row = eachRow(ramp.rows);
  if (!row) return ramp;
  const { [name]: _before, ...others } = row.fields;
  const fields = said ? { ...row.fields, [name]: said } : others;
  return { ...ramp, rows: fromEachRow({ ...row, fields }) };
}
