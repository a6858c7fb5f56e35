"""The printed tag becomes what a phone's camera sees."""

from __future__ import annotations

import subprocess
from pathlib import Path

from PIL import Image

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
