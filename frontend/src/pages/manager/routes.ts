import type { Route } from "$lib/router/router.svelte";

export const managerRoutes: Route[] = [];
