/** The ground: as the device says, or chosen here. Kept by the browser, not a matter of the shop. */
export const THEMES = ["auto", "light", "dark", "contrast"] as const;
const KEY = "lampledger-look";

let theme = $state(localStorage.getItem(KEY) ?? "auto");

export function currentTheme(): string {
  return theme;
}

export function useTheme(wanted: string): void {
  theme = wanted;
  localStorage.setItem(KEY, wanted);
  applyTheme();
}

export function applyTheme(): void {
  if (theme === "auto") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
}
