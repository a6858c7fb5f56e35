import type { Route } from "$lib/router/router.svelte";
import type { Role } from "$lib/api/shapes";

const MANAGER: Role[] = ["manager"];
const COUNTER: Role[] = ["desk", "manager"];

export const managerRoutes: Route[] = [
  { path: "/board", roles: MANAGER, load: () => import("./BoardPage.svelte") },
  { path: "/orders", roles: COUNTER, load: () => import("./OrdersPage.svelte") },
  { path: "/orders/:id", roles: COUNTER, load: () => import("./OrderPage.svelte") },
  { path: "/phones", roles: MANAGER, load: () => import("./PhonesPage.svelte") },
  { path: "/stuck-work", roles: MANAGER, load: () => import("./StuckWorkPage.svelte") },
];
