/** What was typed on a screen and is kept nowhere yet. Fields inside `[data-draft]` keep theirs themselves. */
type TextField = HTMLInputElement | HTMLTextAreaElement;
const PICKED = ["checkbox", "radio", "file"];
const touched = new Set<TextField>();

function note({ target }: Event): void {
  const isText =
    target instanceof HTMLTextAreaElement ||
    (target instanceof HTMLInputElement && !PICKED.includes(target.type));
  if (isText) touched.add(target);
}

/** Starts to notice what is typed; returns how to stop. */
export function watchTyping(): () => void {
  addEventListener("input", note);
  return () => removeEventListener("input", note);
}

/** Whether a reload now would lose text that somebody typed. */
export function hasLooseText(): boolean {
  for (const field of touched) if (!field.isConnected) touched.delete(field);
  return [...touched].some((field) => field.value !== "" && !field.closest("[data-draft]"));
}
