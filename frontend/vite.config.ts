import { svelte } from "@sveltejs/vite-plugin-svelte";
import { fileURLToPath } from "node:url";
import type { Plugin } from "vite";
import { defineConfig } from "vitest/config";
import { serviceWorker } from "./build-tools/service-worker-plugin.ts";
import { versionOf } from "./build-tools/version.ts";

const inTests = process.env["VITEST"] !== undefined;

// On a slow line a screen of twenty small files waits longer for its turns than for its bytes: what every visit needs
// first is one file, what the bench's first page needs besides is another.
const FIRST_SCREENS = [
  { name: "first", tags: ["$initial" as const], priority: 2 },
  { name: "bench", test: /pages.bench.BenchPage\.svelte/, priority: 1 },
];

/** The app is asked for first: over HTTP/1.1 what comes first goes out on the line that is open already. */
function appFirst(): Plugin {
  const ground = /\s*<script src="[^"]*ground\.js"><\/script>/;
  const after = (html: string) =>
    html.replace(ground, "").replace("\n  </head>", `${ground.exec(html)?.[0] ?? ""}$&`);
  return { name: "app-first", apply: "build", transformIndexHtml: { order: "post", handler: after } };
}

export default defineConfig(({ command }) => ({
  // Django serves what is built from its static files; while developing, Vite serves it itself.
  base: command === "build" ? "/static/app/" : "/app/",
  define: { __APP_VERSION__: JSON.stringify(versionOf(import.meta.dirname)) },
  plugins: [svelte(), appFirst(), serviceWorker()],
  resolve: {
    alias: { $lib: fileURLToPath(new URL("./src/lib", import.meta.url)) },
    ...(inTests ? { conditions: ["browser"] } : {}),
  },
  build: {
    target: "es2022",
    // A data: address would be refused by the content security policy.
    assetsInlineLimit: 0,
    manifest: "manifest.json",
    modulePreload: { polyfill: false },
    rolldownOptions: { output: { codeSplitting: { groups: FIRST_SCREENS } } },
  },
  worker: { format: "es" as const },
  server: {
    proxy: { "/api": process.env["LAMPLEDGER_API"] ?? "http://127.0.0.1:8420" },
  },
  test: {
    environment: "jsdom",
    include: ["tests/**/*.test.ts"],
    setupFiles: ["tests/setup.ts"],
    restoreMocks: true,
  },
}));
