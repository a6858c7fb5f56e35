import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { build, type Alias, type Plugin } from "vite";

/** Files the worker fetches only when they are first used: the scanner's decoder is larger than all the rest. */
const LATER = /\.wasm$/;
/** Never kept by the worker: what the device itself fetches when the app is installed is not needed to run it. */
const NOT_SHELL = /(^sw\.js|manifest\.json|\.map|\.txt|\.webmanifest)$|^icons\/.*\.png$/;

export interface KeptFile {
  address: string;
  /** Changes with the content; empty when the address itself does. */
  hash: string;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((found) => found.isFile())
    .map((found) => relative(folder, join(found.parentPath, found.name)).replaceAll("\\", "/"))
    .sort();
}

function kept(folder: string, name: string, base: string): KeptFile {
  const hash = createHash("sha256")
    .update(readFileSync(join(folder, name)))
    .digest("hex")
    .slice(0, 12);
  if (name === "index.html") return { address: "/app/", hash };
  return { address: base + name, hash: /-[\w-]{8}\.\w+$/.test(name) ? "" : hash };
}

/** Lists what was built and compiles `src/service-worker.ts` with that list to `sw.js`. */
export function serviceWorker(): Plugin {
  let folder = "dist";
  let base = "/";
  let alias: Alias[] = [];
  return {
    name: "own-service-worker",
    apply: "build",
    configResolved(config) {
      folder = config.build.outDir;
      base = config.base;
      alias = config.resolve.alias;
    },
    async closeBundle() {
      const names = filesBelow(folder).filter((name) => !NOT_SHELL.test(name));
      const at_once = names.filter((name) => !LATER.test(name)).map((name) => kept(folder, name, base));
      const later = names.filter((name) => LATER.test(name)).map((name) => kept(folder, name, base));
      await build({
        configFile: false,
        logLevel: "warn",
        publicDir: false,
        resolve: { alias },
        define: { __AT_ONCE__: JSON.stringify(at_once), __LATER__: JSON.stringify(later) },
        build: {
          outDir: folder,
          emptyOutDir: false,
          lib: { entry: "src/service-worker.ts", formats: ["iife"], name: "worker", fileName: () => "sw.js" },
        },
      });
    },
  };
}
