import { expect, test } from "vitest";
import { matchRoute, type Route } from "$lib/router/router.svelte";
import { routes } from "../../../src/pages/routes";

const load = () => Promise.reject(new Error("not loaded here"));
const some: Route[] = [
  { path: "/repairs/:id", load },
  { path: "/scan", load },
];

test("an address gives its route with the values of its names", () => {
  expect(matchRoute(some, "/app/repairs/01a2%20b")?.params).toEqual({ id: "01a2 b" });
  expect(matchRoute(some, "/app/scan")?.route.path).toBe("/scan");
});

test("an unknown address gives nothing, nor does one outside the app", () => {
  expect(matchRoute(some, "/app/scan/more")).toBeNull();
  expect(matchRoute(some, "/s/scan")).toBeNull();
});

test("no two pages claim the same address", () => {
  const paths = routes.map((route) => route.path);

  expect(new Set(paths).size).toBe(paths.length);
});
