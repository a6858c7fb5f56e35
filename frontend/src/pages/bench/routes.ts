import type { Route } from "$lib/router/router.svelte";

export const benchRoutes: Route[] = [
  { path: "/bench", load: () => import("./BenchPage.svelte") },
  { path: "/scan", load: () => import("./ScanPage.svelte") },
  { path: "/labels", load: () => import("./LabelsPage.svelte") },
  { path: "/t/:code", load: () => import("./CodePage.svelte") },
  { path: "/repairs/:id", load: () => import("./RepairPage.svelte") },
  { path: "/worksheets/:id", load: () => import("./WorksheetPage.svelte") },
  { path: "/queue", load: () => import("./QueuePage.svelte") },
];
