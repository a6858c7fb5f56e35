import {
  formatDateIn,
  formatDayIn,
  formatExactlyIn,
  formatLatelyIn,
  formatMoneyIn,
  formatMomentIn,
  formatNumberIn,
} from "./formats";
import { currentLanguage } from "./words.svelte";

export * from "./words.svelte";

export const formatNumber = (value: number) => formatNumberIn(currentLanguage(), value);

/** Money in the shop's currency, from whole minor units. */
export const formatMoney = (minor: number, shop: { currency: string; minor_digits: number }) =>
  formatMoneyIn(currentLanguage(), minor, shop.currency, shop.minor_digits);

/** A day as people say it: "Tue 3 Nov". Takes an ISO date or time. */
export const formatDay = (iso: string) => formatDayIn(currentLanguage(), iso);

/** Day and time on the viewer's own clock: "3 Nov, 14:05". */
export const formatMoment = (iso: string) => formatMomentIn(currentLanguage(), iso);

/** When something was read last: "14:05" while it is today, "3 Nov, 14:05" later. */
export const formatLately = (iso: string) => formatLatelyIn(currentLanguage(), iso);

/** A day with its year. */
export const formatDate = (iso: string) => formatDateIn(currentLanguage(), iso);

/** Day, year and time to the second, on the viewer's own clock. */
export const formatExactly = (iso: string) => formatExactlyIn(currentLanguage(), iso);
