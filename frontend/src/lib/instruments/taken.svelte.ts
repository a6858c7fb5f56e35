import { SvelteSet } from "svelte/reactivity";

/** Offers that were taken on this phone: the next cell waits for the next reading. */
export const takenOffers = new SvelteSet<string>();
