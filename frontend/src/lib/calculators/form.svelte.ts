import type { FieldError } from "$lib/api/call";
import {
  below,
  draftOf,
  draftsOf,
  firstRows,
  inputFrom,
  pathsOf,
  placeOf,
  type Draft,
  type Drafts,
  type Troubles,
} from "./draft";
import { fieldsOf, withExamples, type EitherField, type Field, type ListField } from "./fields";
import type { CalculatorRow, Given } from "./shapes";

export type Path = (string | number)[];
export const pathText = (path: Path): string => path.reduce<string>(below, "");

/** A calculator's form while it is filled in: what is typed where, and what is wrong where. */
export class CalculatorForm {
  readonly fields: Field[];
  drafts = $state<Drafts>({});
  troubles = $state.raw<Troubles>({});

  constructor(row: Pick<CalculatorRow, "input" | "example">) {
    this.fields = withExamples(fieldsOf(row.input), [row.example]);
    this.fill({});
  }

  fill(given: Given): void {
    this.drafts = draftsOf(this.fields, given);
    this.troubles = {};
  }

  /** Takes up what was typed before, as far as it still fits the fields. */
  resume(kept: Drafts): void {
    this.drafts = { ...draftsOf(this.fields), ...kept };
  }

  at(path: Path): Draft {
    return path.reduce<Draft>((inside, name) => (inside as Drafts)[name] ?? null, this.drafts);
  }

  put(path: Path, draft: Draft): void {
    const inside = this.at(path.slice(0, -1)) as Drafts;
    inside[path.at(-1) ?? ""] = draft;
    const { [pathText(path)]: _mended, ...others } = this.troubles;
    this.troubles = others;
  }

  addRow(field: ListField, path: Path): void {
    const rows = this.at(path) as Draft[] | null;
    if (rows) rows.push(draftOf(field.item));
    else this.put(path, field.fewest ? firstRows(field) : [draftOf(field.item)]);
  }

  dropRow(path: Path, row: number): void {
    (this.at(path) as Draft[]).splice(row, 1);
    // The numbers in the paths of the other rows would point beside them.
    this.troubles = {};
  }

  /** Another of several shapes; what both have in common stays. */
  choose(field: EitherField, path: Path, key: string): void {
    const before = (this.at(path) ?? {}) as Drafts;
    const fields = field.cases.find((one) => one.key === key)?.fields ?? [];
    const kept = Object.fromEntries(fields.map((one) => [one.name, before[one.name] ?? draftOf(one)]));
    this.put(path, { [field.tag]: key, ...kept });
  }

  /** The input, or null when something typed cannot be used; then `troubles` says what. */
  read(): Given | null {
    const { given, troubles } = inputFrom(this.fields, this.drafts);
    this.troubles = troubles;
    return Object.keys(troubles).length ? null : given;
  }

  /** Whether the form would ask something else now. */
  hasChangedFrom(asked: Given): boolean {
    return JSON.stringify(inputFrom(this.fields, this.drafts).given) !== JSON.stringify(asked);
  }

  /** What the server found wrong, each at the nearest place that the form shows. */
  refuse(errors: FieldError[]): void {
    const shown = pathsOf(this.fields, this.drafts);
    this.troubles = Object.fromEntries(errors.map((error) => [placeOf(error.field, shown), error.detail]));
  }

  trouble(path: Path): string | null {
    return this.troubles[pathText(path)] ?? null;
  }

  /** Whether one of these fields is filled in or wrong: then they must not be folded away. */
  matters(fields: Field[], path: Path): boolean {
    const inside = fields.map((field) => pathText([...path, field.name]));
    const wrong = Object.keys(this.troubles).some((at) =>
      inside.some((one) => at === one || isInside(at, one)),
    );
    const { given } = inputFrom(fields, (this.at(path) ?? {}) as Drafts);
    return wrong || Object.keys(given).length > 0;
  }
}

const isInside = (at: string, path: string) => at.startsWith(`${path}.`) || at.startsWith(`${path}[`);
