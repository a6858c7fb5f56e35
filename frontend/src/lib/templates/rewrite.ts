// One walk through everything in a template that names something else. Renaming and finding uses both go through it.
import type { BenchCondition, Sentence, StepEntry, TemplateBody } from "./body";
import { withPaths } from "./sentences";

/** What becomes of each kind of name. What is not given stays as it is. */
export interface Names {
  /** A path to what is known, `work.fuse.value.mark` and `asked.watt` among them. */
  path?: (path: string) => string;
  /** The id of a step, where it stands and where it is named. */
  step?: (id: string) => string;
  /** The key of a choice of a step. */
  choice?: (step: string, key: string) => string;
  part?: (key: string) => string;
}
type Change = (value: never) => unknown;
type Fields = Record<string, Change>;

/** The same template with its names changed. Fields that are unknown here stay untouched and in their order. */
export function rewritten(body: TemplateBody, names: Names): TemplateBody {
  return new Rewriter(names).body(body);
}

/** The same step, or block, with its names changed. */
export function rewrittenStep<T extends StepEntry>(entry: T, names: Names): T {
  return new Rewriter(names).step(entry);
}

class Rewriter {
  constructor(private readonly names: Names) {}

  body(body: TemplateBody): TemplateBody {
    return fields(body, {
      title: this.sentence,
      summary: this.sentence,
      cautions: list(this.sentence),
      gates: list(table({ when: this.fact, reason: this.sentence })),
      facts: list(table({ ...this.asked })),
      parts: list(table({ key: this.part, order_code: this.sentence, name: this.sentence, when: this.fact })),
      work: list(table({ ...this.work })),
      steps: list(this.step),
    });
  }

  readonly step = <T extends StepEntry>(entry: T): T => {
    const changed = fields(entry, { ...this.own(), ...this.shared });
    if (!("choices" in changed) || !("id" in entry)) return changed;
    return this.withChoices(changed, entry.id);
  };

  /** Fields of a step that its variants do not have. */
  private own(): Fields {
    return {
      id: this.id,
      group: this.sentence,
      when: this.bench,
      when_fact: this.fact,
      repeat: this.loop,
      variants: this.variants,
      steps: list(this.step),
    };
  }

  /** The keys of a look step's choices belong to that step, also in its variants. */
  private withChoices<T extends object>(step: T, id: string): T {
    const choices = list(table({ key: (key: string) => this.choice(id, key) }));
    const inCase = table({ choices });
    const inCases = (cases: object) => fields(cases, each(cases, inCase));
    return fields(step, { choices, variants: table({ cases: inCases }) });
  }

  private readonly path = (path: string) => this.names.path?.(path) ?? path;
  private readonly id = (id: string) => this.names.step?.(id) ?? id;
  private readonly part = (key: string) => this.names.part?.(key) ?? key;
  private readonly choice = (step: string, key: string) => this.names.choice?.(step, key) ?? key;
  private readonly sentence = (sentence: Sentence) => (sentence ? withPaths(sentence, this.path) : sentence);
  private readonly loop = table({ over: this.path, title: this.sentence });
  /** A step names the answer it shows by the name of its work alone. */
  private readonly workName = (name: string) => this.path(`work.${name}`).replace(/^work\./, "");

  readonly fact = (condition: object): object => {
    const compared = ([path, value]: [string, unknown]) => [this.path(path), value];
    return fields(condition, {
      eq: compared,
      in: compared,
      has: compared,
      at_least: compared,
      same: list(this.path),
      known: this.path,
      and: list(this.fact),
      or: list(this.fact),
      not: this.fact,
    });
  };

  readonly bench = (condition: BenchCondition): BenchCondition =>
    fields(condition, {
      eq: ([step, key]: [string, string]) => [this.id(step), this.choice(step, key)],
      in: ([step, keys]: [string, string[]]) => [this.id(step), keys.map((key) => this.choice(step, key))],
      and: list(this.bench),
      not: this.bench,
    });

  /** A plain number is an expression too. */
  readonly expression = (value: unknown): unknown => {
    if (!value || typeof value !== "object") return value;
    return fields(value, {
      fact: this.path,
      work: this.workName,
      first: list(this.expression),
      list: list(this.expression),
      object: (inner: object) => fields(inner, each(inner, this.expression)),
      each: table({ over: this.path, take: this.expression, when: this.fact }),
      largest: this.expression,
      smallest: this.expression,
    });
  };

  private readonly limits = table({
    low: this.expression,
    high: this.expression,
    nominal: this.expression,
    along: this.id,
    points: this.expression,
  });

  private readonly variants = (variants: { keys: string[]; cases: Record<string, object> }) => ({
    ...variants,
    keys: variants.keys.map(this.id),
    cases: Object.fromEntries(
      Object.entries(variants.cases).map(([chosen, changes]) => [
        chosen
          .split("|")
          .map((key, i) => this.choice(variants.keys[i] ?? "", key))
          .join("|"),
        fields(changes, this.shared),
      ]),
    ),
  });

  private readonly asked: Fields = {
    key: (key: string) => this.path(`asked.${key}`).replace(/^asked\./, ""),
    title: this.sentence,
    text: this.sentence,
    from: this.path,
    when: this.fact,
    choices: list(table({ label: this.sentence })),
  };
  private readonly work: Fields = {
    name: this.workName,
    title: this.sentence,
    given: (given: object) => fields(given, each(given, this.expression)),
    when: this.fact,
    for_each: this.loop,
  };
  private readonly rows = (rows: unknown): unknown => {
    if (!Array.isArray(rows)) return this.loop(rows as never);
    const limits = (all: object) => fields(all, each(all, this.limits));
    return rows.map(table({ title: this.sentence, limits }));
  };
  /** Fields that a step and its variants share. */
  private readonly shared: Fields = {
    title: this.sentence,
    text: this.sentence,
    cautions: list(this.sentence),
    waiting_text: this.sentence,
    work: this.workName,
    part: this.part,
    choices: list(table({ label: this.sentence, text: this.sentence })),
    quantity: this.expression,
    seconds: this.expression,
    band: this.limits,
    pictures: list(table({ caption: this.sentence })),
    ramp: table({
      rows: this.expression,
      dwell_seconds: this.expression,
      stop_rules: list(this.sentence),
      columns: list(table({ title: this.sentence })),
    }),
    table: table({ rows: this.rows, columns: list(table({ title: this.sentence, band: this.limits })) }),
  };
}

/** Each named field changed; a field that is not there does not appear. */
function fields<T extends object>(value: T, changes: Fields): T {
  if (!value || typeof value !== "object") return value;
  const pairs = Object.entries(value).map(([name, inner]) => {
    const change = Object.hasOwn(changes, name) ? changes[name] : undefined;
    return [name, change && inner != null ? change(inner as never) : (inner as unknown)];
  });
  return Object.fromEntries(pairs) as T;
}

const table =
  (changes: Fields) =>
  <T extends object>(value: T): T =>
    fields(value, changes);

const list =
  (change: Change) =>
  (values: unknown): unknown =>
    Array.isArray(values) ? values.map((value) => change(value as never)) : values;

const each = (value: object, change: Change): Fields =>
  Object.fromEntries(Object.keys(value).map((name) => [name, change]));
