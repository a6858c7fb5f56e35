import type { Route } from "$lib/router/router.svelte";

export const calculatorRoutes: Route[] = [
  { path: "/calculators", load: () => import("./CalculatorsPage.svelte") },
  { path: "/calculators/:name", load: () => import("./CalculatorPage.svelte") },
];
