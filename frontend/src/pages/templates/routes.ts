import type { Role } from "$lib/api/shapes";
import type { Route } from "$lib/router/router.svelte";

const BENCH: Role[] = ["tech", "manager"];

export const templateRoutes: Route[] = [
  { path: "/templates", roles: BENCH, load: () => import("./ShelfPage.svelte") },
  { path: "/templates/drafts/:id", roles: BENCH, load: () => import("./EditorPage.svelte") },
  { path: "/templates/drafts/:id/trial", roles: BENCH, load: () => import("./TrialPage.svelte") },
  { path: "/templates/drafts/:id/review", roles: BENCH, load: () => import("./ReviewPage.svelte") },
  { path: "/templates/:slug", roles: BENCH, load: () => import("./RevisionPage.svelte") },
];
