import { svelte } from "@sveltejs/vite-plugin-svelte";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";
import { serviceWorker } from "./build-tools/service-worker-plugin.ts";
import { versionOf } from "./build-tools/version.ts";

const inTests = process.env["VITEST"] !== undefined;

export default defineConfig(({ command }) => ({
  // Django serves what is built from its static files; while developing, Vite serves it itself.
  base: command === "build" ? "/static/app/" : "/app/",
  define: { __APP_VERSION__: JSON.stringify(versionOf(import.meta.dirname)) },
  plugins: [svelte(), serviceWorker()],
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
