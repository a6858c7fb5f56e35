"""The preferred values of resistors and capacitors, and the nearest one by ratio.

E24 was laid down by hand in the 1940s and is not what a formula gives (27, 30, 33, 36, 39, 43, 47
and 82 differ); E12, E6 and E3 are every second, fourth and eighth of it. E192 is the rounded
192nd root of ten with one exception, and E96 and E48 are taken from it. Source: IEC 60063.
"""

from __future__ import annotations

from math import floor, log, log10
from typing import Final, Literal, get_args

from shop.calc.working import Source, Status

Series = Literal["E3", "E6", "E12", "E24", "E48", "E96", "E192"]

E24: Final = (
    10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
)  # fmt: skip
# The standard prints 920 where the formula rounds to 919.
_PRINTED: Final = {919: 920}


def _by_formula(count: int) -> tuple[int, ...]:
    rounded = [round(100 * 10 ** (step / count)) for step in range(count)]
    return tuple(_PRINTED.get(value, value) for value in rounded)


E192: Final = _by_formula(192)
MEMBERS: Final[dict[str, tuple[int, ...]]] = {
    "E3": E24[::8],
    "E6": E24[::4],
    "E12": E24[::2],
    "E24": E24,
    "E48": E192[::4],
    "E96": E192[::2],
    "E192": E192,
}
# Percent. E3 has no tolerance of its own: "more than 20".
TOLERANCE_PERCENT: Final[dict[str, float | None]] = dict(
    zip(get_args(Series), (None, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5), strict=True)
)
SERIES_SOURCE: Final = Source(
    "IEC 60063: E3 to E24 as printed, E48 to E192 by formula with 920 for 919",
    Status.SECOND_HAND,
    "PyPI package eseries 1.2.1; pastebin.com/sJzhzBnP (E12, E24)",
)


def around(value: float, series: Series) -> tuple[float, float]:
    """The members at or below and at or above a value, within a billionth.

    Range: any value from 1e-15 to 1e15 in any unit.
    """
    ladder = _ladder(value, series)
    below = max(member for member in ladder if member <= value * (1 + 1e-9))
    return below, min(member for member in ladder if member >= value * (1 - 1e-9))


def at_most(value: float, series: Series) -> float:
    """The largest member not above a value, within a billionth."""
    return around(value, series)[0]


def nearest(value: float, series: Series) -> float:
    """The member nearest by ratio; of two equally near ones the lower."""
    return min(around(value, series), key=lambda member: abs(log(member / value)))


def between(low: float, high: float, series: Series) -> list[float]:
    """All members from `low` to `high`, both ends within a billionth."""
    found: list[float] = []
    member = around(low, series)[1]
    while member <= high * (1 + 1e-9):
        found.append(member)
        member = around(member * (1 + 1e-6), series)[1]
    return found


def _ladder(value: float, series: Series) -> list[float]:
    """The members of the value's decade, with one more on either side.

    Read from text, so that 4.7e-5 is the float that a person means by it.
    """
    members = MEMBERS[series]
    power = floor(log10(value)) - len(str(members[0])) + 1
    steps = [(members[-1], power - 1), *((member, power) for member in members)]
    steps += [(members[0], power + 1), (members[1], power + 1)]
    return [float(f"{member}e{exponent}") for member, exponent in steps]
