"""What goes wrong when a tag is scanned: kinds, each in rising strengths, seeded."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.random import Generator

from tests.scan.labels import Label
from tests.scan.shots import Blot, Glare, Shot

STRENGTHS = 6
Make = Callable[[float, Label, Generator], Shot]


@dataclass(frozen=True)
class Case:
    name: str
    kind: str
    strength: int
    label: Label
    shot: Shot
    seed: int


def usual(random: Generator) -> Shot:
    """How a tag is mostly held: filling about a third of the picture, not quite straight."""
    return Shot(
        px_per_mm=random.uniform(7, 9), turn=random.uniform(-15, 15),
        tilt=random.uniform(0, 12), tilt_axis=random.uniform(0, 180),
    )  # fmt: skip


def rotated(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), turn=15 + 330 * strength)


def tilted(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), tilt=25 + 40 * strength, tilt_axis=random.uniform(0, 180))


def far(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), px_per_mm=4.5 - 3 * strength)


def out_of_focus(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), focus=1.5 + 4 * strength)


def moving(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), moved=4 + 18 * strength, moved_along=random.uniform(0, 180))


def dark(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), white=80 - 62 * strength, noise=4 + 6 * strength)


def glaring(strength: float, label: Label, random: Generator) -> Shot:
    wide, high = label.size_mm
    glare = Glare(
        random.uniform(0, wide), random.uniform(0, high), 12 + 22 * strength, 120 + 200 * strength
    )
    return replace(usual(random), glares=(glare,))


def dirty(strength: float, label: Label, random: Generator) -> Shot:
    """Blots of grease and old glue, anywhere on the label."""
    wide, high = label.size_mm
    blots = tuple(
        Blot(random.uniform(0, wide), random.uniform(0, high), random.uniform(1, 2 + 2 * strength),
             shade=random.uniform(0.05, 0.5))
        for _ in range(3 + round(9 * strength))
    )  # fmt: skip
    return replace(usual(random), blots=blots)


def scratched(strength: float, label: Label, random: Generator) -> Shot:
    """Bare lines through the print, all the way across."""
    wide, high = label.size_mm
    lines = tuple(
        Blot(random.uniform(0, wide), 0, 0.25 + 0.35 * strength,
             (random.uniform(0, wide), high), shade=0.9)
        for _ in range(3 + round(9 * strength))
    )  # fmt: skip
    return replace(usual(random), blots=lines)


def curved(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), radius_mm=label.size_mm[0] * (1.2 - 0.75 * strength))


def packed(strength: float, label: Label, random: Generator) -> Shot:
    return replace(usual(random), px_per_mm=6, jpeg=round(40 - 36 * strength))


def everything(strength: float, label: Label, random: Generator) -> Shot:
    shot = dirty(strength / 3, label, random)
    return replace(
        shot, px_per_mm=6 - 2 * strength, turn=random.uniform(0, 360), tilt=15 + 25 * strength,
        focus=1 + strength, moved=2 + 3 * strength, moved_along=random.uniform(0, 180),
        white=140 - 90 * strength, noise=3 + 3 * strength, jpeg=round(80 - 50 * strength),
        radius_mm=label.size_mm[0] * 1.5,
    )  # fmt: skip


KINDS: dict[str, Make] = {
    "rotated": rotated, "tilted": tilted, "far away": far, "out of focus": out_of_focus,
    "moving": moving, "dark": dark, "glare": glaring, "dirty": dirty, "scratched": scratched,
    "curved": curved, "packed as JPEG": packed, "a little of everything": everything,
}  # fmt: skip


def all_cases(labels: list[Label]) -> Iterator[Case]:
    """Every kind in every strength on every label."""
    for number, (kind, make) in enumerate(KINDS.items()):
        for strength in range(STRENGTHS):
            for one, label in enumerate(labels):
                seed = 10_000 * number + 100 * strength + one
                random = np.random.default_rng(seed)
                shot = make(strength / (STRENGTHS - 1), label, random)
                name = f"{kind.replace(' ', '-')}-{strength}-{one}"
                yield Case(name, kind, strength, label, shot, seed)
