import { BadInput } from "$lib/calc/bad-input";
import { ALPHABET, normalise, readCode, type Code } from "$lib/calc/codes";

/** What a scanned text is: a code of the shop, one of ours that is damaged, or something of others. */
export type Reading =
  | { kind: "own"; code: Code }
  | { kind: "torn"; text: string }
  | { kind: "address"; host: string }
  | { kind: "number"; text: string }
  | { kind: "other"; text: string };

const SHOWN = 40;

/** Tells ours from those of others. Never throws. */
export function readScanned(text: string): Reading {
  try {
    return { kind: "own", code: readCode(text) };
  } catch (error) {
    if (!(error instanceof BadInput)) throw error;
    return error.code === "check_does_not_fit" ? { kind: "torn", text: normalise(text) } : foreign(text);
  }
}

function foreign(text: string): Reading {
  const address = /^https?:\/\//i.test(text) && URL.canParse(text) ? new URL(text) : null;
  if (address) return { kind: "address", host: address.host };
  const shown = text.trim().slice(0, SHOWN);
  // What stands on bags of parts: digits, or an article number with its separators.
  return /\d/.test(shown) && /^[\w\s.()/+-]+$/.test(shown)
    ? { kind: "number", text: shown }
    : { kind: "other", text: shown };
}

/** Pairs that hands and eyes take for each other. O, I, L and U never stand in a code. */
const ALIKE = [
  "8B",
  "5S",
  "2Z",
  "0D",
  "0Q",
  "17",
  "6G",
  "VY",
  "MN",
  "CG",
  "EF",
  "PR",
  "KX",
  "VW",
  "38",
  "UV",
  "4A",
];

/** One way a mistyped code may have been meant: `code` instead, with `at` counted from 0. */
export interface Slip {
  code: string;
  at: number;
  typed: string;
  meant: string;
}

/**
 * Which single slip would explain a code whose check fails: a character taken for one that looks like it,
 * or two neighbours exchanged. The check character finds that there is a slip, not where; these are guesses.
 */
export function likelySlips(typed: string): Slip[] {
  const text = normalise(typed);
  const tried = [...text].flatMap((_, at) => [...lookAlikes(text, at), ...exchanged(text, at)]);
  return tried.filter(({ code }) => readScanned(code).kind === "own");
}

function lookAlikes(text: string, at: number): Slip[] {
  const typed = text.charAt(at);
  const partners = ALIKE.filter((pair) => pair.includes(typed)).map((pair) => pair.replace(typed, ""));
  return partners
    .filter((meant) => ALPHABET.includes(meant))
    .map((meant) => ({ code: text.slice(0, at) + meant + text.slice(at + 1), at, typed, meant }));
}

function exchanged(text: string, at: number): Slip[] {
  const [typed, next] = [text.charAt(at), text.charAt(at + 1)];
  if (!next || typed === next) return [];
  const code = text.slice(0, at) + next + typed + text.slice(at + 2);
  return [{ code, at, typed: typed + next, meant: next + typed }];
}
