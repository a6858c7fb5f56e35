/** The ground: as the device says, or chosen here. Kept by the browser, not a matter of the shop. */
export const THEMES = ["auto", "light", "dark", "contrast"] as const;
type Theme = (typeof THEMES)[number];
type Ground = Exclude<Theme, "auto">;
const KEY = "lampledger-look";
/** What one tap leads to: the dim bench, the bright counter, the window in the sun, and round again. */
const NEXT: Record<Ground, Ground> = { dark: "light", light: "contrast", contrast: "dark" };

let theme = $state<Theme>(kept());

function kept(): Theme {
  const found = localStorage.getItem(KEY);
  return THEMES.find((one) => one === found) ?? "auto";
}

export function currentTheme(): Theme {
  return theme;
}

/** The ground that a tap on the quick switch leads to. */
export function nextGround(): Ground {
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  return NEXT[theme !== "auto" ? theme : dark ? "dark" : "light"];
}

export function useTheme(wanted: string): void {
  localStorage.setItem(KEY, wanted);
  theme = kept();
  applyTheme();
}

export function applyTheme(): void {
  if (theme === "auto") delete document.documentElement.dataset["theme"];
  else document.documentElement.dataset["theme"] = theme;
  colourTheBar();
}

/** The browser's own bar takes the colour of the page, where the page says otherwise than the device. */
function colourTheBar(): void {
  const ground = getComputedStyle(document.documentElement).backgroundColor;
  for (const meta of document.querySelectorAll<HTMLMetaElement>("meta[name=theme-color]")) {
    meta.dataset["own"] ??= meta.content;
    meta.content = theme === "auto" ? meta.dataset["own"] : ground;
  }
}
