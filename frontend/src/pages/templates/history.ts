/** What was there before each change, and what was taken back. */
export interface History<T> {
  past: readonly T[];
  future: readonly T[];
  topic: string;
  at: number;
}

/** Changes to one thing in quick succession are one step back: a word, not a letter. */
const TOGETHER_MS = 1500;
const MOST = 200;

export function noHistory<T>(): History<T> {
  return { past: [], future: [], topic: "", at: 0 };
}

/** Notes a change away from `before`. An empty topic never joins the change before it. */
export function noted<T>(history: History<T>, before: T, topic: string, now = Date.now()): History<T> {
  const joins = topic !== "" && topic === history.topic && now - history.at < TOGETHER_MS;
  const past = joins ? history.past : [...history.past, before].slice(-MOST);
  return { past, future: [], topic, at: now };
}

/** One step back from `here`; null at the beginning. */
export function undone<T>(history: History<T>, here: T): { value: T; history: History<T> } | null {
  const value = history.past.at(-1);
  if (value === undefined) return null;
  const rest = { past: history.past.slice(0, -1), future: [here, ...history.future] };
  return { value, history: { ...rest, topic: "", at: 0 } };
}

/** One step forward again; null when nothing was taken back. */
export function redone<T>(history: History<T>, here: T): { value: T; history: History<T> } | null {
  const [value, ...future] = history.future;
  if (value === undefined) return null;
  return { value, history: { past: [...history.past, here], future, topic: "", at: 0 } };
}
