"""When a person could read the tag. Written down before any picture was decoded.

Mended once after a first look at the pictures: glare hides what it washes out, as dirt does, and
letters are measured without the tail of a Q. No bound was moved.

A person reads the line of eight characters. Whether that can be done follows from how the picture
was made, never from what a decoder says. All four must hold:

1. Size. Capitals are at least `CAPITAL_PX` high where the label is seen smallest. A letter needs
   about three cycles a height to be told from others (Solomon, Pelli: The visual filter mediating
   letter identification, Nature 369, 1994); three cycles are six pixels, and two are added.
2. Blur and contrast. What is left of the step between paper and ink at three cycles a letter, after
   blur, is at least `LEAST_STEP` grey levels of 255.
3. Noise. That step, over the area of a letter's strokes, is five times the noise or more (Rose: The
   sensitivity performance of the human eye, J. Opt. Soc. Am. 38, 1948).
4. Dirt and glare. At most a third of each character is hidden, and of the pattern no more than a
   tenth: ECC 200 repairs 5 of its 18 codewords, and a blot touches more than its area says. Hidden
   is what lies under a blot, and where glare leaves less than `LEAST_STEP`.
"""

from __future__ import annotations

import numpy as np

from tests.scan.labels import Box, Label
from tests.scan.shots import INK, Shot, glare_at, hidden, in_frame

CAPITAL_PX = 8
CYCLES = 3  # a letter
LEAST_STEP = 10  # grey levels
ROSE = 5
STROKES = 0.4  # share of a bold letter's box that is ink
LETTER_HIDDEN, PATTERN_HIDDEN = 1 / 3, 1 / 10


def legible(shot: Shot, label: Label) -> bool:
    """Whether a person could read this label in this picture."""
    return unreadable_because(shot, label) is None


def unreadable_because(shot: Shot, label: Label) -> str | None:
    """The first of the four that fails, by its name; None when a person could read it."""
    height = label.capital_mm * smallest_scale(shot, label)
    if height < CAPITAL_PX:
        return "size"
    step = shot.white * (1 - INK) * left_of_blur(shot, height)
    if step < LEAST_STEP:
        return "blur and contrast"
    if step * np.sqrt(STROKES) * height < ROSE * shot.noise:
        return "noise"
    letters = label.line.split(len(label.code))
    too_much = max(share_hidden(shot, box) for box in letters) > LETTER_HIDDEN
    return "dirt" if too_much or share_hidden(shot, label.pattern) > PATTERN_HIDDEN else None


def smallest_scale(shot: Shot, label: Label) -> float:
    """Pixels a millimetre where line or pattern is seen smallest, in the worse direction."""
    at = np.vstack([label.line.points(), label.pattern.points()])
    here = in_frame(shot, label, at)
    step = 0.01
    across = (in_frame(shot, label, at + np.array([step, 0])) - here) / step
    down = (in_frame(shot, label, at + np.array([0, step])) - here) / step
    jacobians = np.stack([across, down], axis=-1)
    return float(np.linalg.svd(jacobians, compute_uv=False).min())


def left_of_blur(shot: Shot, height: float) -> float:
    """The share of a step that is left at three cycles a letter of this height in pixels.

    A smear counts as the blur of its own standard deviation, length / √12.
    """
    blur = np.sqrt(shot.focus**2 + shot.moved**2 / 12)
    return float(np.exp(-2 * (np.pi * CYCLES * blur / height) ** 2))


def share_hidden(shot: Shot, box: Box) -> float:
    at = box.points(across=40)
    glare = glare_at(shot, at)
    step = np.clip(shot.white + glare, 0, 255) - np.clip(INK * shot.white + glare, 0, 255)
    return float((hidden(shot, at) | (step < LEAST_STEP)).mean())
