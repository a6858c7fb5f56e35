import type { Route } from "$lib/router/router.svelte";
import { benchRoutes } from "./bench/routes";
import { calculatorRoutes } from "./calculators/routes";
import { deskRoutes } from "./desk/routes";
import { managerRoutes } from "./manager/routes";
import { sheetRoutes } from "./sheets/routes";
import { templateRoutes } from "./templates/routes";
import { recordRoutes } from "./record/routes";

const commonRoutes: Route[] = [{ path: "/account", load: () => import("./common/AccountPage.svelte") }];

export const routes: Route[] = [
  ...commonRoutes,
  ...benchRoutes,
  ...calculatorRoutes,
  ...deskRoutes,
  ...managerRoutes,
  ...sheetRoutes,
  ...templateRoutes,
  ...recordRoutes,
];

/** The first page of each role. */
export const FIRST_PAGE = { tech: "/app/bench", desk: "/app/desk", manager: "/app/board" } as const;
