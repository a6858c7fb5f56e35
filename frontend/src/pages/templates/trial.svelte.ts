import { uuid7 } from "$lib/api/ids";
import type { Entry, EntryKind, Pack } from "$lib/api/work-shapes";
import { session } from "$lib/session/session.svelte";
import type { SaveMore } from "$lib/worksheet/context";
import { momentOf } from "$lib/worksheet/clock";
import { nextStep, worksheetState } from "$lib/worksheet/state";
import { invented } from "./invented";

/** A worksheet that exists only on this screen: the same steps, the same judging, and nothing is kept or sent. */
export class Trial {
  entries = $state.raw<Entry[]>([]);
  state = $derived.by(() => worksheetState(this.pack, this.entries));

  constructor(readonly pack: Pack) {}

  record(step: string, kind: EntryKind, value: Record<string, unknown>, more: SaveMore = {}): void {
    const { verdict = null, replaces = null, reason = "" } = more;
    const { worksheet, repair } = this.pack;
    const me = session.me;
    const entry: Entry = {
      id: uuid7(),
      record: worksheet,
      repair,
      worksheet,
      step: more.step ?? step,
      kind,
      value,
      replaces,
      reason,
      made_by: me?.id ?? "",
      made_by_name: me?.name ?? "",
      device_id: me?.device.id ?? "",
      made_at: momentOf(Date.now()),
      verdict,
      seq: this.entries.length + 1,
    };
    this.entries = [...this.entries, entry];
  }

  /** Answers one step so that it passes. */
  answer(id: string): void {
    const one = this.state.steps.find((state) => state.step.id === id);
    for (const { step, kind, value, verdict } of one ? invented(one.step, this.state.standing) : [])
      this.record(step, kind, value, { verdict });
  }

  /** Answers every open step so that it passes, in order, as far as that goes. */
  answerAll(): void {
    // What was answered may bring new steps; one that stays open although answered ends it.
    let last: string | null = null;
    for (let next = nextStep(this.state, null); next; next = nextStep(this.state, null)) {
      if (next.step.id === last) return;
      last = next.step.id;
      this.answer(last);
    }
  }

  begin(): void {
    this.entries = [];
  }
}
