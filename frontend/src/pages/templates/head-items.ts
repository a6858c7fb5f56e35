import type { AskedFact, Gate, NeededPart, TemplateBody, Work } from "$lib/templates/body";
import { freeId } from "$lib/templates/edit";

/** The parts of the head that are lists of things with a form each. */
export type ItemPart = "facts" | "gates" | "parts" | "work";

/** A question, gate, part or calculation as it begins, under a name of its own that nobody needs to see. */
export function blankItem(body: TemplateBody, part: ItemPart): AskedFact | Gate | NeededPart | Work {
  switch (part) {
    case "facts":
      return { key: free("answer", body.facts), title: "", quantity: "count", required: true };
    case "parts":
      return { key: free("part", body.parts), name: "", quantity: 1 };
    case "work":
      return { name: free("work", body.work), title: "", calculator: "", given: {} };
    case "gates":
      return { when: { known: "" }, reason: "" };
  }
}

function free(stem: string, items: readonly { key?: string; name?: unknown }[] = []): string {
  return freeId(stem, new Set(items.flatMap((one) => [one.key, one.name].map(String))));
}
