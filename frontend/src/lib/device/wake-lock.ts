/** Keeps the screen on while a worksheet is open, and asks again when it is seen again. `onanswer` hears whether the
 *  phone does it: a low battery may refuse. Returns how to let go. */
export function keepAwake(onanswer: (isAwake: boolean) => void = () => undefined): () => void {
  // Typed as always there; it is not over plain HTTP.
  const wakeLock = navigator.wakeLock as WakeLock | undefined;
  if (!wakeLock) return () => undefined;
  let lock: WakeLockSentinel | null = null;
  let wanted = true;
  const ask = async () => {
    if (!wanted || document.visibilityState !== "visible") return;
    lock = await wakeLock.request("screen").catch(() => null);
    // Asked for twice, or let go of meanwhile.
    if (!wanted) return void lock?.release();
    onanswer(lock !== null);
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
