import type { Decoder } from "./decoder";
import type { Seen } from "./read";

/** Why there is no picture, as far as the browser tells. */
export type CameraTrouble = "denied" | "none" | "in_use" | "insecure" | "failed";

/** What one frame showed; `size` is that of the picture in which the corners lie. */
export interface Look {
  seen: Seen[];
  size: { width: number; height: number };
}

const WAS_OPEN = "lampledger-camera-was-open";
const TROUBLES: Record<string, CameraTrouble> = {
  NotAllowedError: "denied",
  NotFoundError: "none",
  OverconstrainedError: "none",
  NotReadableError: "in_use",
  AbortError: "in_use",
};
/** Between two looks: a phone that looks without pause gets warm and its battery empty. */
const REST_MS = 60;

/** Whether the camera may open without being asked for: the person allowed it before. */
export async function isAllowedAlready(): Promise<boolean> {
  try {
    const { state } = await navigator.permissions.query({ name: "camera" });
    return state === "granted";
  } catch {
    // Some browsers do not tell; there, one that opened before opens again.
    return localStorage.getItem(WAS_OPEN) !== null;
  }
}

export function troubleOf(error: unknown): CameraTrouble {
  return (error instanceof DOMException && TROUBLES[error.name]) || "failed";
}

/** The back camera's picture. Throws a DOMException that `troubleOf` puts a name to. */
export async function openCamera(): Promise<MediaStream> {
  const wanted = { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } };
  const stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false });
  localStorage.setItem(WAS_OPEN, "yes");
  return stream;
}

export function letGo(stream: MediaStream): void {
  stream.getTracks().forEach((track) => track.stop());
}

/** Looks at the video again and again until told to stop. One frame at a time: a slow phone looks less often. */
export function keepLooking(video: HTMLVideoElement, decoder: Decoder, looked: (look: Look) => void) {
  let running = true;
  const isRunning = () => running;
  const look = async () => {
    let last = "";
    while (isRunning()) {
      const found = await lookOnce(video, decoder);
      // It may have been stopped meanwhile.
      if (found && isRunning()) looked(found);
      const texts = found?.seen.map((one) => one.text).join() ?? "";
      // A tag that has just come into view waits for the look that makes sure of it.
      const isNew = texts !== "" && texts !== last;
      await new Promise((rested) => setTimeout(rested, isNew ? 0 : REST_MS));
      last = texts;
    }
  };
  void look();
  return () => {
    running = false;
  };
}

/** null: there is no picture yet. */
async function lookOnce(video: HTMLVideoElement, decoder: Decoder): Promise<Look | null> {
  if (!video.videoWidth) return null;
  const { pixelsOf } = await import("./decoder");
  const image = pixelsOf(video, video.videoWidth, video.videoHeight);
  const size = { width: image.width, height: image.height };
  return { seen: await decoder.decode(image), size };
}

/** The lamp beside the camera; null where there is none. */
export function torchOf(
  stream: MediaStream,
): { on: boolean; turn: (on: boolean) => Promise<boolean> } | null {
  const [track] = stream.getVideoTracks();
  const can = track?.getCapabilities?.() as { torch?: boolean } | undefined;
  if (!track || !can?.torch) return null;
  const isOn = () => Boolean((track.getSettings() as { torch?: boolean }).torch);
  return { on: isOn(), turn: (on) => turn(track, on) };
}

/** Whether the lamp did as it was told. */
async function turn(track: MediaStreamTrack, on: boolean): Promise<boolean> {
  const wanted = { advanced: [{ torch: on }] } as unknown as MediaTrackConstraints;
  return track.applyConstraints(wanted).then(
    () => true,
    () => false,
  );
}
