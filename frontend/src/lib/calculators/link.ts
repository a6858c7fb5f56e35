// A filled-in calculator as a link: the inputs stand behind the #, so that they never reach a server's log.
import type { Given } from "./shapes";

export function hashOf(given: Given): string {
  return `#${encodeURIComponent(JSON.stringify(given))}`;
}

/** The inputs of a link; null when there are none or they cannot be read. */
export function givenIn(hash: string): Given | null {
  try {
    const found = JSON.parse(decodeURIComponent(hash.slice(1))) as unknown;
    return found && typeof found === "object" && !Array.isArray(found) ? (found as Given) : null;
  } catch {
    return null;
  }
}
