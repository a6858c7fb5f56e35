// The twin of shop/calc/codes.py: both run tests/vectors/codes.json.
import { BadInput } from "./bad-input";

export const ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
const CODE_LENGTH = 8;
const KINDS = { N: "unit", P: "piece", B: "bin", A: "part", M: "meter", S: "shelf" } as const;
const FOLD: Record<string, string> = { I: "1", L: "1", O: "0", "-": "", " ": "", "\u00a0": "" };

export type CodeKind = (typeof KINDS)[keyof typeof KINDS];
export interface Code {
  kind: CodeKind;
  text: string;
}

/** Check character of the hybrid system MOD 33,32 (ISO/IEC 7064 with our alphabet). */
export function checkCharacter(body: string): string {
  const size = ALPHABET.length;
  let product = size;
  for (const character of body) {
    const value = ALPHABET.indexOf(character);
    if (value < 0) throw new BadInput("code", "bad_character", { typed: character });
    product = (((product + value) % size || size) * 2) % (size + 1);
  }
  return ALPHABET.charAt((size + 1 - product) % size);
}

/** What was typed or scanned, as a code is written; a link gives the code at its end. */
export function normalise(typed: string): string {
  const link = /\/app\/t\/([^/?#]*)/i.exec(typed);
  const text = (link?.[1] ?? typed).trim().toUpperCase();
  return [...text].map((character) => FOLD[character] ?? character).join("");
}

/** Reads a code from what was typed or scanned. Throws BadInput with the reason's code. */
export function readCode(typed: string, field = "code"): Code {
  const text = normalise(typed);
  if (!text) throw new BadInput(field, "empty");
  const { length } = [...text];
  if (length !== CODE_LENGTH) throw new BadInput(field, "wrong_length", { length });
  const strange = [...text].find((character) => !ALPHABET.includes(character));
  if (strange) throw new BadInput(field, "bad_character", { typed: strange });
  const letter = text.charAt(0);
  if (!Object.hasOwn(KINDS, letter)) throw new BadInput(field, "unknown_kind", { typed: letter });
  if (checkCharacter(text.slice(0, -1)) !== text.slice(-1)) throw new BadInput(field, "check_does_not_fit");
  return { kind: KINDS[letter as keyof typeof KINDS], text };
}
