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
    this.rows ??= await keptCalculators().catch(() => null);
    try {
      const fresh = await fetchCalculators();
      // The same list again must not begin a half-filled form anew.
      if (JSON.stringify(fresh) !== JSON.stringify(this.rows)) this.rows = fresh;
    } catch (error) {
      if (!(error instanceof NoNetwork)) this.trouble = sentenceFor(error);
      else if (!this.rows) this.trouble = t("calculators.list_needs_network");
    }
  }
}
