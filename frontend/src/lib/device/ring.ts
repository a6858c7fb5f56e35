/** Three short tones and a buzz. Sound needs a touch on the page before, which starting a timer is. */
export function ring(): void {
  if ("vibrate" in navigator) navigator.vibrate([300, 150, 300, 150, 300]);
  const audio = new AudioContext();
  [0, 0.35, 0.7].forEach((at) => {
    const tone = audio.createOscillator();
    const volume = audio.createGain();
    tone.frequency.value = 880;
    volume.gain.value = 0.25;
    tone.connect(volume).connect(audio.destination);
    tone.start(audio.currentTime + at);
    tone.stop(audio.currentTime + at + 0.22);
  });
  setTimeout(() => void audio.close(), 1500);
}
