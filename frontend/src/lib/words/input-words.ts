import { BadInput } from "$lib/calc/bad-input";
import { tMaybe } from "./words.svelte";

/** The sentence for what was typed and cannot be used. */
export function inputSentence(error: unknown): string {
  if (!(error instanceof BadInput)) throw error;
  const sentence = tMaybe(`input.${error.field}.${error.code}`, tMaybe(`input.${error.code}`, error.code));
  return sentence.replace(/\{(\w+)\}/g, (whole, name: string) => String(error.values[name] ?? whole));
}
