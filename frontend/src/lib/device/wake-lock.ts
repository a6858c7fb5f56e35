/** Keeps the screen on while a worksheet is open; silent when the phone refuses. Returns how to let go. */
export function keepAwake(): () => void {
  // Typed as always there; it is not over plain HTTP.
  const wakeLock = navigator.wakeLock as WakeLock | undefined;
  if (!wakeLock) return () => undefined;
  let lock: WakeLockSentinel | null = null;
  let wanted = true;
  const ask = async () => {
    if (!wanted || document.visibilityState !== "visible") return;
    lock = await wakeLock.request("screen").catch(() => null);
  };
  const seen = () => void ask();
  document.addEventListener("visibilitychange", seen);
  void ask();
  return () => {
    wanted = false;
    document.removeEventListener("visibilitychange", seen);
    void lock?.release();
  };
}
