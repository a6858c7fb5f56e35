// What the server says can be named in a template: GET template-words/.
import type { Plain } from "./body";

/** A fact of the unit, its model sheet, the repair, the supplies, the bench or the shop. */
export interface NamedFact {
  path: string;
  title: string;
  type: "number" | "text" | "yes_no" | "choice" | "list" | "object";
  quantity?: string | null;
  unit?: string | null;
  choices?: { key: Plain; title: string }[] | null;
  /** What each row of a list holds; a row that is a plain value has none. */
  rows?: NamedFact[] | null;
}
export interface TemplateWords {
  facts: NamedFact[];
  quantities: { key: string; title: string; unit: string; symbol: string }[];
  meter_kinds: { key: string; title: string }[];
  kinds?: unknown[];
}
