import type { Role } from "$lib/api/shapes";
import type { Route } from "$lib/router/router.svelte";

const BENCH: Role[] = ["tech", "manager"];

export const sheetRoutes: Route[] = [
  { path: "/model-sheets", roles: BENCH, load: () => import("./SheetsPage.svelte") },
  { path: "/model-sheets/:id", roles: BENCH, load: () => import("./SheetPage.svelte") },
];
