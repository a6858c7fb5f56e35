// The ring of a timer. Browsers play a sound only after a touch on the page: the tap that starts a timer is one.
let audio: AudioContext | null = null;

/** Makes sound possible; called in a tap. */
export function unlockSound(): void {
  if (typeof AudioContext === "undefined") return;
  audio ??= new AudioContext();
  void audio.resume().catch(() => undefined);
}

/** After a reload the next touch anywhere unlocks the sound of timers that still run. */
export function unlockSoundOnTouch(): void {
  addEventListener("pointerdown", unlockSound, { once: true });
}

/** Three short tones and a buzz, as far as this phone has them. */
export function ring(): void {
  if ("vibrate" in navigator) navigator.vibrate([300, 150, 300, 150, 300]);
  const sound = audio;
  if (sound?.state !== "running") return;
  [0, 0.35, 0.7].forEach((after) => {
    const tone = sound.createOscillator();
    const volume = sound.createGain();
    tone.frequency.value = 880;
    volume.gain.value = 0.25;
    tone.connect(volume).connect(sound.destination);
    tone.start(sound.currentTime + after);
    tone.stop(sound.currentTime + after + 0.22);
  });
}

/** Asks once, in a tap, whether the phone may show that a time is up. */
export function askToNotify(): void {
  if (typeof Notification === "undefined" || Notification.permission !== "default") return;
  void Notification.requestPermission().catch(() => undefined);
}

/** Shows that a time is up where the app is not seen; `address` is opened by a tap on it. */
export async function showNotification(title: string, address: string): Promise<void> {
  if (typeof Notification === "undefined" || Notification.permission !== "granted") return;
  const registration = await navigator.serviceWorker.getRegistration();
  await registration?.showNotification(title, { tag: address, requireInteraction: true, data: { address } });
}

/** Takes back what `showNotification` showed. */
export async function closeNotification(address: string): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.getRegistration();
  for (const shown of (await registration?.getNotifications({ tag: address })) ?? []) shown.close();
}
