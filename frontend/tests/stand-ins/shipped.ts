import { readdirSync, readFileSync } from "node:fs";
import type { TemplateBody } from "$lib/templates/body";

const FOLDER = "../shop/jobs/templates";

/** The job templates that come along, read anew: each test may do with them what it wants. */
export function shipped(): TemplateBody[] {
  return readdirSync(FOLDER)
    .filter((name) => name.endsWith(".json"))
    .map((name) => JSON.parse(readFileSync(`${FOLDER}/${name}`, "utf8")) as TemplateBody);
}
