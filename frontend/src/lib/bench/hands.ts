import type { Id, Me, Repair, StageEvent } from "$lib/api/shapes";

/** Whose hands a repair is in, as its history says it. */
export interface InHands {
  /** `handed`: to me, and I have not taken it yet. */
  state: "nobody" | "mine" | "handed" | "other";
  holder: { id: Id; name: string } | null;
  /** The event that brought it there; null where nobody wrote one. */
  last: StageEvent | null;
}

export function inHands(repair: Pick<Repair, "assigned_to" | "events">, me: Id): InHands {
  const holder = repair.assigned_to;
  const last = repair.events.filter((event) => event.hands).at(-1) ?? null;
  if (!holder) return { state: "nobody", holder, last };
  if (holder.id !== me) return { state: "other", holder, last };
  const isWaiting = last?.hands === "handed" && last.handed_to === me;
  return { state: isWaiting ? "handed" : "mine", holder, last };
}

/** What the rules of the server allow; it has the last word. */
export function mayTake(hands: InHands, me: Me): boolean {
  if (me.role === "desk" || hands.state === "mine") return false;
  return hands.state !== "other" || me.role === "manager";
}

export function mayHandOver(hands: InHands, me: Me): boolean {
  return me.role !== "tech" || hands.state === "mine" || hands.state === "handed";
}
