/** Something typed cannot be used. `code` never changes; the sentence is `input.<code>` in the words. */
export class BadInput extends Error {
  constructor(
    readonly field: string,
    readonly code: string,
    readonly values: Record<string, string | number> = {},
  ) {
    super(code);
  }
}
