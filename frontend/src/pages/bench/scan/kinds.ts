import { readCode } from "$lib/calc/codes";
import { t } from "$lib/words";

/** What a code is of, in a word: its first letter says it. */
export function kindWord(code: string): string {
  return t(`code.kind.${readCode(code).kind}`);
}
