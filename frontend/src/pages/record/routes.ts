import type { Route } from "$lib/router/router.svelte";

export const recordRoutes: Route[] = [
  { path: "/meters", load: () => import("./MetersPage.svelte") },
  { path: "/meters/:id", load: () => import("./MeterPage.svelte") },
  { path: "/worksheets/:id/record", load: () => import("./RecordPage.svelte") },
];
