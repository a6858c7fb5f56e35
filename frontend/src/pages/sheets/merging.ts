// Two people changed one sheet: what each of them changed, field by field.
import { draftOf, type Drafts } from "$lib/calculators/draft";
import type { Field } from "$lib/calculators/fields";
import type { Given } from "$lib/calculators/shapes";

const text = (value: unknown) => JSON.stringify(value ?? null);

/** The fields of which a form makes something else now than it made of what was read. */
export function changedFields(fields: Field[], before: Drafts, now: Drafts): Set<string> {
  const differ = fields.filter(({ name }) => text(before[name]) !== text(now[name]));
  return new Set(differ.map(({ name }) => name));
}

export interface Merged {
  drafts: Drafts;
  /** Titles of the fields that both changed, and not to the same. */
  both: string[];
}

/** What I typed on top of what somebody else saved; where both changed a field, mine stands in the form. */
export function merged(fields: Field[], before: Drafts, mine: Drafts, theirs: Given): Merged {
  const kept = changedFields(fields, before, mine);
  const drafts: Drafts = {};
  const both: string[] = [];
  for (const field of fields) {
    const other = draftOf(field, theirs[field.name]);
    const isMine = kept.has(field.name);
    drafts[field.name] = isMine ? (mine[field.name] ?? null) : other;
    const otherChanged = text(other) !== text(before[field.name]);
    if (isMine && otherChanged && text(other) !== text(mine[field.name])) both.push(field.title);
  }
  return { drafts, both };
}
