export function isFull(error: unknown): boolean {
  return error instanceof DOMException && error.name === "QuotaExceededError";
}
