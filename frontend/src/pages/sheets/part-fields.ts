// Which figures are read of a part across the mains; the server reads no others of its kind.
import type { Drafts } from "$lib/calculators/draft";

const CAPACITOR = ["rated_volt", "capacitance_farad", "rating_class"];
const OF_KIND: Record<string, readonly string[]> = {
  varistor: ["rated_volt", "is_line_to_earth"],
  x_capacitor: CAPACITOR,
  y_capacitor: CAPACITOR,
  line_to_chassis_capacitor: CAPACITOR,
  neon: ["resistance_ohm", "maintain_volt", "lamp_ampere"],
  switch: ["rated_volt", "rated_ampere"],
  plug: ["plug_letter"],
  fuse: ["rated_volt"],
  pilot_lamp: ["rated_volt"],
  cord: ["rated_volt"],
  rear_outlet: ["rated_volt"],
};

/** Kind and name, and what belongs to the kind. */
export function fieldsOfPart(row: Drafts): readonly string[] {
  return ["kind", "name", ...(OF_KIND[row["kind"] as string] ?? [])];
}
