import type { Route } from "$lib/router/router.svelte";

export const benchRoutes: Route[] = [{ path: "/bench", load: () => import("./BenchPage.svelte") }];
