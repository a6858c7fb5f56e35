// Where a step goes when it is moved by a button or dropped: into a block, out of it, or past its neighbour.
import { isBlock, type Block, type Path, type StepEntry, type TemplateBody } from "$lib/templates/body";
import { valueAt } from "$lib/templates/edit";

const at = (body: TemplateBody, path: Path) => valueAt(body, path) as StepEntry | undefined;
const isInside = (path: Path) => path.length > 2;
const outer = (path: Path, by = 0): Path => ["steps", Number(path[1]) + by];
const inner = (path: Path, index: number): Path => [...path.slice(0, -1), index];

/** Before what a step must be placed to stand one place higher. null: it is the first. */
export function placeAbove(body: TemplateBody, path: Path): Path | null {
  const index = Number(path.at(-1));
  if (isInside(path)) return index > 0 ? inner(path, index - 1) : outer(path);
  if (index === 0) return null;
  const before = at(body, outer(path, -1));
  if (goesInto(body, path, before)) return [...outer(path, -1), "steps", before.steps.length];
  return outer(path, -1);
}

/** Before what a step must be placed to stand one place lower. null: it is the last. */
export function placeBelow(body: TemplateBody, path: Path): Path | null {
  const index = Number(path.at(-1));
  if (isInside(path)) return at(body, inner(path, index + 1)) ? inner(path, index + 2) : outer(path, 1);
  const after = at(body, outer(path, 1));
  if (!after) return null;
  return goesInto(body, path, after) ? [...outer(path, 1), "steps", 0] : outer(path, 2);
}

function goesInto(body: TemplateBody, path: Path, neighbour: StepEntry | undefined): neighbour is Block {
  const moved = at(body, path);
  return moved !== undefined && !isBlock(moved) && neighbour !== undefined && isBlock(neighbour);
}

/** Before what a step lands that is dropped on the upper or lower half of the row at `over`. The lower half of a block's
 *  own row is its inside. null: there it changes nothing, or may not go. */
export function placeDropped(
  body: TemplateBody,
  from: Path,
  over: Path,
  half: "upper" | "lower",
): Path | null {
  const moved = at(body, from);
  const target = at(body, over);
  if (!moved || !target || isWithin(over, from)) return null;
  const into = half === "lower" && goesInto(body, from, target);
  const to = into ? [...over, "steps", 0] : half === "upper" ? over : inner(over, Number(over.at(-1)) + 1);
  const changes = !isSamePath(to, from) && !isSamePath(to, inner(from, Number(from.at(-1)) + 1));
  return changes && !(isBlock(moved) && isInside(to)) ? to : null;
}

export const isSamePath = (one: Path, other: Path) => one.join(".") === other.join(".");
export const isWithin = (path: Path, around: Path) => around.every((name, i) => path[i] === name);

/** A path as it stands in an address: `steps.3.steps.1`. */
export function pathFrom(text: string | null): Path {
  return (text ?? "")
    .split(".")
    .filter(Boolean)
    .map((name) => (/^\d+$/.test(name) ? Number(name) : name));
}
