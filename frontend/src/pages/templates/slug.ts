const LONGEST = 60;

/** The short name of a template for addresses and files, made from its title: "Fan, 80 mm" → "fan-80-mm". */
export function slugOf(title: string): string {
  return title
    .normalize("NFKD")
    .replace(/ß/g, "ss")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, "");
}

/** The same, or with a number behind it where it is taken. */
export function freeSlug(title: string, taken: Iterable<string>): string {
  const wanted = slugOf(title) || "job";
  const others = new Set(taken);
  let found = wanted;
  for (let n = 2; others.has(found); n++) found = `${wanted.slice(0, LONGEST - 4)}-${String(n)}`;
  return found;
}
