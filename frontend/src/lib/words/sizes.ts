import { formatNumber } from "$lib/words";

/** How much room something takes, as people say it: "840 kB", "3.2 MB". */
export function formatBytes(bytes: number): string {
  if (bytes < 1_000_000) return `${formatNumber(Math.max(1, Math.round(bytes / 1_000)))} kB`;
  return `${formatNumber(Math.round(bytes / 100_000) / 10)} MB`;
}
