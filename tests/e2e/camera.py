"""The printed tag becomes what a phone's camera sees."""

from __future__ import annotations

import io
import json
import subprocess
from base64 import b64encode
from pathlib import Path

import numpy as np
import zxingcpp
from PIL import Image
from playwright.sync_api import BrowserContext

FRAME = (1280, 720)
TAG_WIDTH = 620  # the label fills about half the picture, as when held at a hand's width


def picture_of(pdf: bytes, folder: Path) -> Path:
    """The first page of a PDF as PNG, drawn by poppler."""
    source = folder / "tag.pdf"
    source.write_bytes(pdf)
    words = ["pdftoppm", "-png", "-r", "300", "-f", "1", "-l", "1", "-singlefile"]
    subprocess.run([*words, str(source), str(folder / "tag")], check=True)
    return folder / "tag.png"


def film_of(picture: Path, folder: Path) -> Path:
    """A short film of the label lying on a grey bench, as Chromium's fake camera plays it."""
    frame, film = folder / "frame.png", folder / "camera.mjpeg"
    _on_bench(picture).save(frame)
    command = [
        "ffmpeg", "-y", "-loglevel", "error", "-loop", "1", "-framerate", "30", "-t", "1",
        "-i", str(frame), "-c:v", "mjpeg", "-q:v", "3", "-pix_fmt", "yuvj420p", str(film),
    ]  # fmt: skip
    subprocess.run(command, check=True)
    return film


def _on_bench(picture: Path) -> Image.Image:
    with Image.open(picture) as opened:
        tag = opened.convert("RGB")
    tag.thumbnail((TAG_WIDTH, FRAME[1] - 80))
    scene = Image.new("RGB", FRAME, (122, 118, 110))
    scene.paste(tag, ((FRAME[0] - tag.width) // 2, (FRAME[1] - tag.height) // 2))
    return scene


def photo(folder: Path, name: str, colour: tuple[int, int, int] = (90, 110, 130)) -> Path:
    """A JPEG as a phone would take it, large enough to be shrunk."""
    file = folder / f"{name}.jpg"
    scene = Image.new("RGB", (3000, 2000), colour)
    scene.paste((200, 180, 60), (900, 600, 2100, 1400))
    scene.save(file, quality=85)
    return file


def text_of_pdf(pdf: bytes, folder: Path) -> str:
    file = folder / "paper.pdf"
    file.write_bytes(pdf)
    words = ["pdftotext", "-layout", str(file), "-"]
    return subprocess.run(words, check=True, capture_output=True, text=True).stdout


def frame_of(*texts: str, kind: str = "DataMatrix") -> str:
    """One frame with codes side by side, as an address a page can draw."""
    scene = Image.new("RGB", FRAME, (122, 118, 110))
    each = FRAME[0] // max(len(texts), 1)
    for number, text in enumerate(texts):
        code = _printed(text, kind, side=min(300, each - 120))
        left = number * each + (each - code.width) // 2
        scene.paste(code, (left, (FRAME[1] - code.height) // 2))
    packed = io.BytesIO()
    scene.save(packed, "PNG")
    return f"data:image/png;base64,{b64encode(packed.getvalue()).decode()}"


def _printed(text: str, kind: str, side: int) -> Image.Image:
    symbol = zxingcpp.create_barcode(text, getattr(zxingcpp.BarcodeFormat, kind))
    code = Image.fromarray(np.array(zxingcpp.write_barcode_to_image(symbol)))
    return code.convert("RGB").resize((side, side), Image.Resampling.NEAREST)


# Stands in for the camera of the browser: no flags, and a picture that a test can change.
FAKE_CAMERA = """
(told) => {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [1280, 720];
  const pen = canvas.getContext("2d");
  const camera = { ...told, open: 0, lit: false };
  window.camera = camera;
  camera.show = async (address) => {
    const picture = new Image();
    picture.src = address;
    await picture.decode();
    camera.shown = picture;
  };
  if (told.picture) void camera.show(told.picture);
  setInterval(() => {
    pen.fillStyle = "#7a766e";
    pen.fillRect(0, 0, 1280, 720);
    if (camera.shown) pen.drawImage(camera.shown, 0, 0);
  }, 40);
  const ask = navigator.permissions.query.bind(navigator.permissions);
  navigator.permissions.query = (what) =>
    what.name === "camera" ? Promise.resolve({ state: camera.permission }) : ask(what);
  navigator.mediaDevices.getUserMedia = async () => {
    if (camera.refuses) throw new DOMException("", camera.refuses);
    const stream = canvas.captureStream(25);
    const [track] = stream.getVideoTracks();
    const stop = track.stop.bind(track);
    camera.open += 1;
    track.stop = () => { camera.open -= 1; stop(); };
    if (camera.torch) {
      track.getCapabilities = () => ({ torch: true });
      track.getSettings = () => ({ torch: camera.lit });
      track.applyConstraints = async (wanted) => { camera.lit = wanted.advanced[0].torch; };
    }
    return stream;
  };
}
"""


def fake_camera(
    context: BrowserContext,
    *,
    picture: str | None = None,
    permission: str = "granted",
    refuses: str | None = None,
    torch: bool = False,
) -> None:
    """Gives the pages of a context a camera. `refuses`: the name of the DOMException it throws."""
    told = {"picture": picture, "permission": permission, "refuses": refuses, "torch": torch}
    context.add_init_script(f"({FAKE_CAMERA})({json.dumps(told)})")
