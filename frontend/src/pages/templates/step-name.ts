import type { Step } from "$lib/templates/body";
import { inLanguage } from "$lib/templates/sentences";
import { currentLanguage, t } from "$lib/words";

/** What a step is called in lists. One that works another template and has no title of its own goes by that one's
 *  short name: "dead working". */
export function stepName(step: Step): string {
  const own = inLanguage(step.title, currentLanguage());
  return own || step.procedure?.template.replaceAll("-", " ") || t("editor.untitled");
}
