// What the server says about a model sheet.
import type { Hazard } from "$lib/api/shapes";
import type { Given } from "$lib/calculators/shapes";

export interface Doubt {
  field: string;
  text: string;
}
/** What a job template takes from the sheet and does not find there. */
export interface Lack {
  template: string;
  title: string;
  what: string[];
}
export interface SheetRow {
  id: string;
  make: string;
  model: string;
  kind: string;
  doubts: Doubt[];
  lacks: Lack[];
}
export interface FullSheet extends Omit<SheetRow, never>, Given {
  version: number;
  hazards: Hazard[];
}
export interface SheetChange {
  id: string;
  version: number;
  field: string;
  title: string;
  sentences: string[];
  why: string;
  by_name: string;
  at: string;
}
export interface Section {
  name: string;
  start: string;
  finish: string;
  rated_volt: number;
  taps?: { terminal: string; volt: number }[];
}

const BESIDE = ["id", "version", "doubts", "lacks"];

/** The fields of a sheet as the form takes them and the server is sent them. */
export function factsOf(sheet: FullSheet): Given {
  const own = Object.entries(sheet).filter(([name]) => !BESIDE.includes(name));
  const facts = Object.fromEntries(own.map(([name, value]) => [name, isNothing(value) ? null : value]));
  return { ...facts, hazards: sheet.hazards.map(({ key }) => key) };
}

/** A group that is not there comes as one without fields. */
const isNothing = (value: unknown) =>
  typeof value === "object" && value !== null && !Array.isArray(value) && !Object.keys(value).length;
