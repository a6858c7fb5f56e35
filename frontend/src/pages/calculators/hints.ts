import type { Field } from "$lib/calculators/fields";
import { showWithUnit } from "$lib/calculators/numbers";
import { fallbackWords } from "$lib/calculators/rows";
import { t } from "$lib/words";

/** What the schema says about a field, an example, and what is taken when it is left out. */
export function hintOf(field: Field): string {
  const fallback = field.required ? null : fallbackWords(field);
  // A remark that only says the title again says nothing.
  const isSaid = field.text.trim().toLowerCase() === field.title.toLowerCase();
  return [
    isSaid ? "" : sentence(field.text),
    exampleOf(field),
    fallback === null ? "" : t("calculators.left_out", { fallback: unbroken(fallback) }),
  ]
    .filter(Boolean)
    .join(" ");
}

function exampleOf(field: Field): string {
  const [first] = field.examples;
  if (field.kind === "number" && typeof first === "number") {
    const example = unbroken(showWithUnit(first, field.unit));
    const typed = typedAs(example);
    return typed ? t("calculators.example_typed", { example, typed }) : t("calculators.example", { example });
  }
  if (field.kind === "text" && typeof first === "string") return t("calculators.example", { example: first });
  return "";
}

/** How a phone types `470 µF`, which nobody means in farads: `470u`. */
function typedAs(shown: string): string {
  const [, digits, prefix] = /^([0-9.]+)\s([pnµm])[FH]$/u.exec(shown) ?? [];
  return digits && prefix ? digits + prefix.replace("µ", "u") : "";
}

/** A number and its unit stay on one line. */
const unbroken = (text: string) => text.replace(/(?<=[0-9]) /g, "\u00a0");

function sentence(text: string): string {
  const trimmed = text.trim();
  const ended = !trimmed || /[.?!…]$/.test(trimmed) ? trimmed : `${trimmed}.`;
  return ended.charAt(0).toUpperCase() + ended.slice(1);
}
