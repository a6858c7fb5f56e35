import type { Option } from "$lib/calculators/fields";

const MOST = 4;
const MOST_LETTERS = 44;

/** Whether the options fit side by side, so that one tap is enough. */
export function isShort(options: readonly Option[]): boolean {
  const letters = options.reduce((sum, option) => sum + option.label.length, 0);
  return options.length <= MOST && letters <= MOST_LETTERS;
}
