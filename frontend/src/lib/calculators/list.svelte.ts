import { NoNetwork, sentenceFor } from "$lib/api/call";
import { t } from "$lib/words";
import { fetchCalculators, keptCalculators } from "./answers";
import type { CalculatorRow } from "./shapes";

/** The list for a screen: at once as it lies on the phone, then as the server has it. */
export class Calculators {
  rows = $state.raw<CalculatorRow[] | null>(null);
  trouble = $state<string | null>(null);

  async load(): Promise<void> {
    this.trouble = null;
    const kept = await keptCalculators().catch(() => null);
    this.rows = kept?.rows ?? null;
    try {
      // The same list again is the same object, and begins no half-filled form anew.
      this.rows = (await fetchCalculators(kept)).rows;
    } catch (error) {
      if (!(error instanceof NoNetwork)) this.trouble = sentenceFor(error);
      else if (!this.rows) this.trouble = t("calculators.list_needs_network");
    }
  }
}
