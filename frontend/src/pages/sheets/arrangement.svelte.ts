import { ApiError, post } from "$lib/api/call";
import type { Drawing } from "$lib/calculators/drawings";
import type { Given } from "$lib/calculators/shapes";
import { t } from "$lib/words";
import type { Section } from "./shapes";

const WAIT_MS = 350;

export interface Setting {
  sections: Section[];
  plate_hz?: number[];
  links: string[][];
  line_terminals: string[];
  volt?: number;
}
interface Arrangements {
  outcome: "ok" | "warn" | "refuse" | "no_answer";
  text: string;
  value: { checked_drawing: Drawing | null } | null;
}

/** Asks again a moment after the last key, and shows the answer to the last question only. */
export class Asked<A> {
  answer = $state.raw<A | null>(null);
  trouble = $state<string | null>(null);
  private timer: ReturnType<typeof setTimeout> | undefined;
  private turn = 0;
  private asked = "";

  constructor(private readonly calculator: string) {}

  want(given: Given | null): void {
    const text = JSON.stringify(given);
    if (text === this.asked) return;
    this.asked = text;
    clearTimeout(this.timer);
    this.turn += 1;
    if (given) this.timer = setTimeout(() => void this.ask(given, this.turn), WAIT_MS);
    else this.answer = this.trouble = null;
  }

  private async ask(given: Given, turn: number): Promise<void> {
    let answer: A | null = null;
    let trouble: string | null = null;
    try {
      answer = await post<A>(`calculators/${this.calculator}/`, given);
    } catch (error) {
      trouble = error instanceof ApiError ? (error.fields[0]?.detail ?? error.message) : t("error.network");
    }
    if (turn === this.turn) Object.assign(this, { answer, trouble });
  }
}

/** A setting's links drawn and judged. */
export class Arrangement extends Asked<Arrangements> {
  constructor() {
    super("windings.arrangements");
  }

  show({ sections, plate_hz, links, line_terminals, volt }: Setting): void {
    const isWhole = sections.length > 0 && sections.every((one) => one.name && one.start && one.finish);
    if (!isWhole || line_terminals.length !== 2) return this.want(null);
    const supply = volt ? { supply_volt: volt } : {};
    const hertz = plate_hz?.length ? { plate_hz } : {};
    this.want({ sections, check_links: links, check_mains: line_terminals, ...supply, ...hertz });
  }
}

/** The terminals of all sections, in the order of the turns. */
export function terminalsOf(sections: Partial<Section>[]): string[] {
  const all = sections.flatMap(({ start, taps = [], finish }) => [
    start,
    ...taps.map((tap) => tap.terminal),
    finish,
  ]);
  return all.filter((terminal, i): terminal is string => !!terminal && all.indexOf(terminal) === i);
}
