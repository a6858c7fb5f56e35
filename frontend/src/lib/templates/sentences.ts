// Sentences of a template: one per language, with {path|quantity} for what is filled in when a worksheet starts.
import type { Sentence } from "./body";

export const LANGUAGES = ["en", "de"] as const;
const PLACE = /\{([a-z_]+(?:\.[a-z0-9_]+)*)(?:\|([a-z_]+))?\}/g;
const DOUBLED = /\{\{|\}\}/g;

export interface Placeholder {
  /** As it stands in the sentence, braces and all. */
  written: string;
  path: string;
  style: string | null;
}

export function placeholdersIn(text: string): Placeholder[] {
  return [...text.replaceAll(DOUBLED, "").matchAll(PLACE)].map(([written, path = "", style]) => ({
    written,
    path,
    style: style ?? null,
  }));
}

/** A brace that is neither doubled nor part of a placeholder. */
export function hasStrayBrace(text: string): boolean {
  return /[{}]/.test(text.replaceAll(DOUBLED, "").replaceAll(PLACE, ""));
}

/** The sentence in a language, else in English. */
export function inLanguage(sentence: Sentence | undefined, language: string): string {
  if (sentence === undefined || typeof sentence === "string") return sentence ?? "";
  return sentence[language] ?? sentence["en"] ?? "";
}

/** Every placeholder's path changed, in every language. A doubled brace stays what it is. */
export function withPaths(sentence: Sentence, change: (path: string) => string): Sentence {
  if (typeof sentence !== "string")
    return Object.fromEntries(
      Object.entries(sentence).map(([language, text]) => [language, withPaths(text, change) as string]),
    );
  return sentence.replace(/\{\{|\}\}|\{[^{}]+\}/g, (part) =>
    part.length === 2
      ? part
      : part.replace(PLACE, (_whole, path: string, style?: string) => written(change(path), style)),
  );
}

/** The text with each value in it by its title, in « »: to be read, not to be written back. */
export function withTitles(text: string, titleFor: (path: string) => string): string {
  return text.replace(PLACE, (_whole, path: string) => `«${titleFor(path)}»`);
}

export const written = (path: string, style?: string | null) => (style ? `{${path}|${style}}` : `{${path}}`);

/** A sentence with its text in one language changed; an empty one is left out, except where it is the only one. */
export function withText(sentence: Sentence | undefined, language: string | null, text: string): Sentence {
  if (language === null) return text;
  const others = typeof sentence === "object" ? sentence : { en: sentence ?? "" };
  const changed = { ...others, [language]: text };
  if (!text && language !== "en") delete changed[language];
  return changed;
}
