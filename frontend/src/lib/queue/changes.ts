/** Tells open screens, in this tab and in others, that records on the phone changed. */
type Listener = () => void;
const listeners = new Set<Listener>();
const channel = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("lampledger");
channel?.addEventListener("message", () => listeners.forEach((listener) => listener()));

export function onChange(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

export function announceChange(): void {
  listeners.forEach((listener) => listener());
  channel?.postMessage("changed");
}
