import { parse } from "regexparam";
import type { Component } from "svelte";
import { readQuery } from "./query";
import type { Role } from "$lib/api/shapes";

export type Params = Record<string, string>;
export type Page = Component<{ params: Params }>;
/** A page that asks for no `params` is a page too, hence `never`. */
type AnyPage = Component<never>;

/** One address of the app. `load` is a dynamic import, so a page is fetched when it is first opened. */
export interface Route {
  path: string;
  load: () => Promise<{ default: AnyPage }>;
  /** Who may open it; everybody signed in when left out. The server decides again. */
  roles?: Role[];
}

export interface Match {
  route: Route;
  params: Params;
}

const BASE = "/app";
let here = $state(location.pathname);
let search = $state(location.search);

export function currentPath(): string {
  return here;
}

export function currentQuery(): URLSearchParams {
  return readQuery(search);
}

function takeAddress(): void {
  here = location.pathname;
  search = location.search;
}

/** Opens another page of the app, for example `go("/app/scan")`. */
export function go(address: string, { replace = false } = {}): void {
  const before = here;
  history[replace ? "replaceState" : "pushState"](null, "", address);
  takeAddress();
  // Another step of the same page keeps its own place.
  if (here !== before) scrollTo(0, 0);
}

/** The route that fits a path, with the values of its `:names`. */
export function matchRoute(routes: Route[], path: string): Match | null {
  const below = path.startsWith(BASE) ? path.slice(BASE.length) || "/" : path;
  for (const route of routes) {
    const { keys, pattern } = parse(route.path);
    const found = pattern.exec(below);
    if (found) {
      const params = Object.fromEntries(keys.map((key, i) => [key, decodeURIComponent(found[i + 1] ?? "")]));
      return { route, params };
    }
  }
  return null;
}

function ownLink(event: MouseEvent): HTMLAnchorElement | null {
  if (event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return null;
  const link = event.target instanceof Element ? event.target.closest("a") : null;
  if (!link || link.target || link.hasAttribute("download") || link.origin !== location.origin) return null;
  return link.pathname === BASE || link.pathname.startsWith(`${BASE}/`) ? link : null;
}

/** Starts listening for links and the back button; returns how to stop. */
export function startRouter(): () => void {
  const click = (event: MouseEvent) => {
    const link = ownLink(event);
    if (!link) return;
    event.preventDefault();
    go(link.pathname + link.search + link.hash);
  };
  addEventListener("click", click);
  addEventListener("popstate", takeAddress);
  return () => {
    removeEventListener("click", click);
    removeEventListener("popstate", takeAddress);
  };
}
