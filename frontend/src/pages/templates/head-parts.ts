import type { TemplateBody } from "$lib/templates/body";

/** What stands before the steps, in the order it is written, and which fields of the body each part is about. */
export const HEAD_PARTS = [
  { name: "about", fields: ["slug", "title", "summary", "minutes", "role", "proves", "schema_version"] },
  { name: "cautions", fields: ["cautions"] },
  { name: "gates", fields: ["gates"] },
  { name: "facts", fields: ["facts"] },
  { name: "work", fields: ["work"] },
  { name: "parts", fields: ["parts"] },
] as const;
export type HeadPart = (typeof HEAD_PARTS)[number];

/** How many of them there are; 0 for what is no list. */
export function sizeOf(body: TemplateBody, part: HeadPart): number {
  return part.name === "about" ? 0 : (body[part.name]?.length ?? 0);
}

/** The part of the head that a field of the body belongs to. */
export function headPartOf(field: string | number | undefined): HeadPart["name"] {
  const part = HEAD_PARTS.find((one) => (one.fields as readonly string[]).includes(String(field)));
  return part?.name ?? "about";
}
