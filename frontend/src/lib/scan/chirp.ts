/** Whether a scan is heard and felt: a choice of this phone. */
const SILENT = "lampledger-scan-silent";

export function isSilent(): boolean {
  return localStorage.getItem(SILENT) !== null;
}

export function beSilent(silent: boolean): void {
  if (silent) localStorage.setItem(SILENT, "yes");
  else localStorage.removeItem(SILENT);
}

/** One short tone and a buzz where the phone has them; never the only sign that a scan worked. */
export function chirp(): void {
  if (isSilent()) return;
  if ("vibrate" in navigator) navigator.vibrate(70);
  try {
    const audio = new AudioContext();
    const [tone, volume] = [audio.createOscillator(), audio.createGain()];
    tone.frequency.value = 1760;
    volume.gain.value = 0.15;
    tone.connect(volume).connect(audio.destination);
    tone.start();
    tone.stop(audio.currentTime + 0.08);
    setTimeout(() => void audio.close(), 300);
  } catch {
    // No sound on this machine.
  }
}
