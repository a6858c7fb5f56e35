"""Printed labels as fine pictures, with what a person reads: the line of eight characters."""

from __future__ import annotations

import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

Grey = NDArray[np.float32]
PX_PER_MM = 24  # of the fine picture: about 610 dpi
MM_PER_POINT = 25.4 / 72
_WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(\w+)<')
_PAGE = re.compile(r"<page ")


@dataclass(frozen=True)
class Box:
    """Millimetres from the label's upper left corner."""

    left: float
    top: float
    right: float
    bottom: float

    def split(self, count: int) -> list[Box]:
        """Side by side, as the characters of a line with equal widths."""
        wide = (self.right - self.left) / count
        lefts = [self.left + n * wide for n in range(count)]
        return [Box(left, self.top, left + wide, self.bottom) for left in lefts]

    def points(self, across: int = 5) -> NDArray[np.float64]:
        """A grid of points over the box, a row of x and y each."""
        x = np.linspace(self.left, self.right, across)
        y = np.linspace(self.top, self.bottom, across)
        return np.stack(np.meshgrid(x, y), axis=-1).reshape(-1, 2)


@dataclass(frozen=True)
class Label:
    """`paper` is the share of light that comes back: 1 white, 0 black."""

    code: str
    paper: Grey
    line: Box  # the code in letters
    capital_mm: float  # height of its first letter; a Q reaches below the line
    pattern: Box  # the Data Matrix without its quiet zone

    @property
    def size_mm(self) -> tuple[float, float]:
        high, wide = self.paper.shape
        return wide / PX_PER_MM, high / PX_PER_MM

    @property
    def module_mm(self) -> float:
        return (self.pattern.right - self.pattern.left) / 14  # 14 modules hold eight characters


def labels_on(pdf: bytes, codes: list[str], folder: Path) -> list[Label]:
    """The labels of a paper with one label a page, in the order of its pages."""
    source = folder / "labels.pdf"
    source.write_bytes(pdf)
    draw = ["pdftoppm", "-gray", "-r", str(PX_PER_MM * 25.4), str(source), str(folder / "label")]
    subprocess.run(draw, check=True)
    words = subprocess.run(
        ["pdftotext", "-bbox", str(source), "-"], check=True, capture_output=True, text=True
    ).stdout
    pages = _PAGE.split(words)[1:]
    pictures = sorted(folder.glob("label-*.pgm"))
    return [_label(*three) for three in zip(codes, pictures, pages, strict=True)]


def _label(code: str, picture: Path, words: str) -> Label:
    with Image.open(picture) as opened:
        paper = np.asarray(opened.convert("L"), dtype=np.float32) / 255
    left, top, right, bottom = _box_of(code, words)
    line = _ink(paper, Box(left, top, right, bottom))
    capital = _ink(paper, line.split(len(code))[0])
    pattern = _ink(paper, Box(0, 0, left - 0.3, paper.shape[0] / PX_PER_MM))
    return Label(code, paper, line, capital.bottom - capital.top, pattern)


def _box_of(code: str, words: str) -> list[float]:
    for *edges, word in _WORD.findall(words):
        if word == code:
            return [float(edge) * MM_PER_POINT for edge in edges]
    raise AssertionError(f"{code} is not printed in letters")


def _ink(paper: Grey, inside: Box) -> Box:
    """The smallest box around everything dark inside a box."""
    first = [max(0, round(edge * PX_PER_MM)) for edge in (inside.left, inside.top)]
    last = [round(edge * PX_PER_MM) for edge in (inside.right, inside.bottom)]
    dark = paper[first[1] : last[1], first[0] : last[0]] < 0.5
    rows, columns = np.flatnonzero(dark.any(1)), np.flatnonzero(dark.any(0))
    x, y = first
    edges = (x + columns[0], y + rows[0], x + columns[-1] + 1, y + rows[-1] + 1)
    return Box(*(float(edge) / PX_PER_MM for edge in edges))
