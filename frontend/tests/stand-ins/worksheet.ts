import { render } from "@testing-library/svelte";
import { vi } from "vitest";
import type { Entry, EntryKind, Pack, Step } from "$lib/api/work-shapes";
import type { SaveMore } from "$lib/worksheet/context";
import { worksheetState } from "$lib/worksheet/state";
import StepCard from "../../src/pages/bench/parts/StepCard.svelte";

/** The smallest step of a kind. */
export function stepOf(id: string, kind: Step["kind"], more: Partial<Step> = {}): Step {
  const plain = { group: "", title: id, text: "", safety: false, phase: null, required: true, when: null };
  return { id, kind, ...plain, cautions: [], work: null, variants: null, ...more };
}

/** An entry of Anna's, as the server keeps it. */
export function entryOf(step: string, kind: EntryKind, more: Partial<Entry> = {}): Entry {
  const who = { made_by: "p", made_by_name: "Anna", device_id: "d", made_at: "2026-03-02T09:00:00Z" };
  const where = { record: "w", repair: "r", worksheet: "w", step };
  const plain = { value: {}, replaces: null, reason: "", verdict: null, seq: 1 };
  return { id: `e-${step}`, ...where, kind, ...plain, ...who, ...more };
}

/** A step's card on a worksheet that takes entries as the phone does; returns what was saved. */
export function workCard(given: Partial<Pack>, shown: string, entries: Entry[] = []) {
  const pack = { meters: [], work: {}, steps: [], ...given } as unknown as Pack;
  const saved: Entry[] = [];
  const save = vi.fn(async (kind: EntryKind, value: Record<string, unknown>, more: SaveMore = {}) => {
    const { step = shown, verdict = null, replaces = null, reason = "" } = more;
    const id = `n-${String(saved.length)}`;
    saved.push(entryOf(step, kind, { id, value, verdict, replaces, reason, seq: 10 + saved.length }));
    await card.rerender(props());
  });
  const props = () => {
    const state = worksheetState(pack, [...entries, ...saved]);
    const one = state.steps.find((other) => other.step.id === shown);
    if (!one) throw new Error(`${shown} is not shown`);
    const context = { pack, state, worksheet: "w", reload: () => Promise.resolve(), save };
    return { context, one, onshow: () => undefined };
  };
  const card = render(StepCard, { props: props() });
  return saved;
}
