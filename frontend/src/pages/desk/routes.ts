import type { Route } from "$lib/router/router.svelte";
import type { Role } from "$lib/api/shapes";

const DESK: Role[] = ["desk", "manager"];

export const deskRoutes: Route[] = [
  { path: "/desk", roles: DESK, load: () => import("./DeskPage.svelte") },
  { path: "/book-in", roles: DESK, load: () => import("./BookInPage.svelte") },
  { path: "/booked/:id", roles: DESK, load: () => import("./BookedPage.svelte") },
  { path: "/desk/repairs/:id", roles: DESK, load: () => import("./RepairPage.svelte") },
  { path: "/desk/repairs/:id/hand-back", roles: DESK, load: () => import("./HandBackPage.svelte") },
  { path: "/find", load: () => import("./FindPage.svelte") },
  { path: "/place", load: () => import("./PlacePage.svelte") },
];
