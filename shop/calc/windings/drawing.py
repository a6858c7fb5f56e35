"""The drawing of an arrangement as pure geometry: what screens and papers put into an SVG.

All numbers are units of the drawing's own view box: 320 wide, as high as it needs. At that width on
a telephone a unit is a pixel.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Literal

import msgspec


class Stroke(StrEnum):
    """What a line or a coil stands for. `unused` carries no mains current."""

    WINDING = "winding"
    LINK = "link"
    MAINS = "mains"
    UNUSED = "unused"


class DrawnLine(msgspec.Struct, frozen=True):
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float
    kind: Stroke


class Coil(msgspec.Struct, frozen=True):
    """A piece of winding between two neighbouring points, as the `d` of an SVG path."""

    path: str
    kind: Stroke


class Dot(msgspec.Struct, frozen=True):
    """A terminal (open circle), a joint of links or the dot at a section's beginning (filled)."""

    x: float
    y: float
    radius: float
    kind: Literal["terminal", "joint", "polarity"]


class Label(msgspec.Struct, frozen=True):
    """A word on the drawing; `y` is its base line."""

    x: float
    y: float
    text: str
    anchor: Literal["start", "middle", "end"]
    kind: Literal["section", "terminal", "volt", "mains"]


class Drawing(msgspec.Struct, frozen=True):
    """Geometry in view box units; `title` says the drawing in one sentence for who cannot see it.

    Draw lines first, then coils, dots and labels.
    """

    title: str
    width: float
    height: float
    text_height: float
    lines: list[DrawnLine]
    coils: list[Coil]
    dots: list[Dot]
    labels: list[Label]
