import { get } from "$lib/api/call";
import { fetchCalculators, keptCalculators } from "$lib/calculators/answers";
import type { CalculatorRow } from "$lib/calculators/shapes";
import { readMeta, writeMeta } from "$lib/db/open";
import type { Path, TemplateBody } from "$lib/templates/body";
import type { TemplateWords } from "$lib/templates/named";
import { placeAt, type Place } from "$lib/templates/sources";
import { currentLanguage } from "$lib/words";

const NONE: TemplateWords = { facts: [], quantities: [], meter_kinds: [] };

/** What can be named in a template, in words: from this device at once, then from the server. */
export class Names {
  words = $state.raw<TemplateWords>(NONE);
  calculators = $state.raw<CalculatorRow[]>([]);

  async load(): Promise<void> {
    await this.#kept();
    const [words, calculators] = await Promise.all([this.#words(), fetchCalculators(null)]);
    this.words = words;
    this.calculators = calculators.rows;
  }

  /** What can be named at one place of a body. */
  at(body: TemplateBody, path: Path): Place {
    return placeAt(body, path, this.words, this.calculators);
  }

  get #key(): string {
    return `template-words/${currentLanguage()}`;
  }
  async #kept(): Promise<void> {
    this.words = (await readMeta<TemplateWords>(this.#key)) ?? NONE;
    this.calculators = (await keptCalculators().catch(() => null))?.rows ?? [];
  }
  async #words(): Promise<TemplateWords> {
    const words = await get<TemplateWords>("template-words/");
    await writeMeta(this.#key, words);
    return words;
  }
}
