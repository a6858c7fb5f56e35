/** Puts ISO days and moments in order. For these `localeCompare` says the same, after the phone has loaded how words are
 *  sorted: 9 ms on a fast machine, when the first screen waits for it. */
export const byText = (a: string, b: string) => (a < b ? -1 : Number(a > b));
