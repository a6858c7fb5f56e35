import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** The package's version and a short hash over all sources: equal code has an equal name on every machine. */
export function versionOf(root: string): string {
  const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { version: string };
  const hash = createHash("sha256");
  for (const file of sourcesOf(join(root, "src"))) hash.update(readFileSync(file));
  return `${version} (${hash.digest("hex").slice(0, 7)})`;
}

function sourcesOf(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((found) => found.isFile())
    .map((found) => join(found.parentPath, found.name))
    .sort();
}
