import { pixelsOf, type Decoder } from "./decoder";

export interface Camera {
  /** Whether the lamp of the phone could be switched; tried only when asked. */
  torch: (on: boolean) => Promise<boolean>;
  stop: () => void;
}

/** Shows the back camera in `video` and calls `found` once with the first code in sight. Throws when there is none. */
export async function watchCamera(
  video: HTMLVideoElement,
  decoder: Decoder,
  found: (text: string) => void,
): Promise<Camera> {
  const wanted = { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } };
  const stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false });
  let running = true;
  const stop = () => {
    running = false;
    stream.getTracks().forEach((track) => track.stop());
  };
  video.srcObject = stream;
  await video.play();
  // One frame in flight: a slow phone looks at fewer frames instead of falling behind.
  const look = async () => {
    if (!running) return;
    const text = video.videoWidth
      ? await decoder.decode(pixelsOf(video, video.videoWidth, video.videoHeight))
      : null;
    if (text && running) {
      stop();
      found(text);
    } else if (running) video.requestVideoFrameCallback(() => void look());
  };
  video.requestVideoFrameCallback(() => void look());
  return { torch: (on) => switchTorch(stream, on), stop };
}

async function switchTorch(stream: MediaStream, on: boolean): Promise<boolean> {
  const [track] = stream.getVideoTracks();
  const wanted = { advanced: [{ torch: on }] } as unknown as MediaTrackConstraints;
  return track
    ? track.applyConstraints(wanted).then(
        () => true,
        () => false,
      )
    : false;
}
