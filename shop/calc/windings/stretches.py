"""The stretches of a section that can carry the mains: from which point to which."""

from __future__ import annotations

from itertools import combinations
from typing import NamedTuple

from shop.calc.windings.sections import EQUAL_TURNS, Section

LEAST_SHARE = 0.5  # a stretch that leaves the start unused is worth having from half the section


class Stretch(NamedTuple):
    """A section from one point to a later one; `volt` stands for the turns between them.

    `kind` is the same for stretches that may stand for each other.
    """

    section: Section
    begin: str
    end: str
    volt: float
    kind: tuple[float, float, float]


def stretches(section: Section) -> list[Stretch]:
    """Every stretch worth the mains, those from the start first.

    From the start or a tap on its far side to any point beyond the start; between later taps where
    at least half of the turns are in use. Stretches of equal turns count once.
    """
    points = section.points()
    least = LEAST_SHARE * (points[-1][1] - points[0][1]) * (1 - EQUAL_TURNS / 10)
    found: dict[float, Stretch] = {}
    pairs = sorted(combinations(points, 2), key=lambda pair: (abs(pair[0][1]), pair[1][1]))
    for (begin, low), (end, high) in pairs:
        if (low <= 0 < high) or high - low >= least:
            volt = round(high - low, 9)
            kind = (section.rated_volt, volt, section.rated_ampere or 0.0)
            found.setdefault(volt, Stretch(section, begin, end, volt, kind))
    return list(found.values())


def like(one: Stretch, others: list[Stretch]) -> Stretch | None:
    """The stretch of equal turns (within 1 %) of another section, or None."""
    near = [other for other in others if abs(other.volt - one.volt) <= EQUAL_TURNS * one.volt]
    return min(near, key=lambda other: abs(other.volt - one.volt), default=None)
