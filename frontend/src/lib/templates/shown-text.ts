// A sentence while it is edited: what will be filled in stands in it by its title, «Unit: make», and never breaks.
import { placeholdersIn, written } from "./sentences";
import { pickable, titleOf, type Known } from "./sources";

const MARKED = /«[^«»]*»/g;

/** How a value is written into a sentence: with its unit, as a list, or as it is. */
export function placeholderFor({ path, quantity, type }: Known): string {
  return written(path, type === "list" ? "list" : quantity);
}

export const marked = (title: string): string => `«${title.replaceAll(/[«»]/g, "")}»`;

/** The text with the title of each placeholder in its place. */
export function shownText(text: string, known: Known[]): string {
  let shown = text;
  for (const [mark, placeholder] of marksIn(text, known)) shown = shown.replaceAll(placeholder, mark);
  return shown;
}

/** The text as the template has it. `before` is what it was: its placeholders keep their way of writing. */
export function writtenText(shown: string, before: string, known: Known[]): string {
  const marks = marksIn(before, known);
  return shown.replaceAll(MARKED, (mark) => marks.get(mark) ?? usual(mark, known) ?? mark);
}

function usual(mark: string, known: Known[]): string | null {
  const found = pickable(known).find((one) => marked(titleOf(known, one.path)) === mark);
  return found ? placeholderFor(found) : null;
}

/** The mark of each placeholder of a text. Two that would read alike are told apart by a number. */
function marksIn(text: string, known: Known[]): Map<string, string> {
  const marks = new Map<string, string>();
  for (const { written: placeholder, path } of placeholdersIn(text)) {
    const title = titleOf(known, path);
    let mark = marked(title);
    for (let n = 2; marks.has(mark) && marks.get(mark) !== placeholder; n++)
      mark = marked(`${title} (${String(n)})`);
    marks.set(mark, placeholder);
  }
  return marks;
}

/** The selection grown to whole marks, so that nothing typed or deleted leaves half of one behind. */
export function wholeMarks(shown: string, start: number, end: number): [number, number] {
  for (const found of shown.matchAll(MARKED)) {
    const [from, to] = [found.index, found.index + found[0].length];
    if (start < to && end > from) [start, end] = [Math.min(start, from), Math.max(end, to)];
  }
  return [start, end];
}
