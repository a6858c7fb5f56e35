// What the server says about meters and records.
import type { components } from "$lib/api/schema";

export type MeterFull = components["schemas"]["MeterFullOut"];
export type MeterHistory = components["schemas"]["MeterHistoryOut"];
export type Taken = components["schemas"]["TakenOut"];
export type RecordShown = components["schemas"]["RecordOut"];
export type Found = "in_tolerance" | "adjusted" | "out_of_tolerance";
export type MeterRules = components["schemas"]["MeterRulesOut"];
