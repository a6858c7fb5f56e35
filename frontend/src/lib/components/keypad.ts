/** Where a bare m could be a slip: for mega, for minutes, for metres. There the key says what it means. */
const SPELLED_OUT = new Set(["Ω", "s", "m"]);

/** What the key of a prefix says and types; empty for none. */
export function keyFor(prefix: string, symbol: string): string {
  if (prefix === "u") return "µ";
  return prefix === "m" && SPELLED_OUT.has(symbol) ? `m${symbol}` : prefix;
}
