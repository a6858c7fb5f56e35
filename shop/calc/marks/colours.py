"""The colours of resistor bands (IEC 60062): digit, multiplier, tolerance, drift."""

from __future__ import annotations

from typing import Final, Literal

import msgspec

from shop.calc.words import gettext_noop
from shop.calc.working import Source, Status

Colour = Literal[
    "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white",
    "gold", "silver",
]  # fmt: skip
CLASSIC = gettext_noop("usual")
OLDER = gettext_noop("an older list")
SINCE_2016 = gettext_noop("IEC 60062:2016")


class ColourTolerance(msgspec.Struct, frozen=True):
    """Plus and minus this much, by one edition."""

    percent: float
    edition: str


class ColourRow(msgspec.Struct, frozen=True):
    """What one colour stands for, by its place. None where it has no meaning."""

    digit: str | None
    power: int
    tolerances: tuple[ColourTolerance, ...] = ()
    ppm_per_kelvin: int | None = None


def _row(
    digit: str | None, power: int, ppm: int | None, *tolerances: tuple[float, str]
) -> ColourRow:
    return ColourRow(digit, power, tuple(ColourTolerance(*one) for one in tolerances), ppm)


COLOURS: Final[dict[Colour, ColourRow]] = {
    "black": _row("0", 0, 250),
    "brown": _row("1", 1, 100, (1.0, CLASSIC)),
    "red": _row("2", 2, 50, (2.0, CLASSIC)),
    "orange": _row("3", 3, 15, (0.05, SINCE_2016), (3.0, OLDER)),
    "yellow": _row("4", 4, 25, (0.02, SINCE_2016), (4.0, OLDER)),
    "green": _row("5", 5, 20, (0.5, CLASSIC)),
    "blue": _row("6", 6, 10, (0.25, CLASSIC)),
    "violet": _row("7", 7, 5, (0.1, CLASSIC)),
    "grey": _row("8", 8, 1, (0.05, CLASSIC), (0.01, SINCE_2016)),
    "white": _row("9", 9, None),
    "gold": _row(None, -1, None, (5.0, CLASSIC)),
    "silver": _row(None, -2, None, (10.0, CLASSIC)),
}
NO_BAND: Final = (ColourTolerance(20.0, CLASSIC),)

SOURCES: Final = [
    Source("digits, multipliers and usual tolerances of the colours", Status.SECOND_HAND,
           "IEC 60062 as listed at gist.github.com (a415d93f6e180685fc12)"),
    Source("tolerances of the 2016 edition: orange, yellow, grey", Status.FROM_MEMORY,
           "IEC 60062:2016"),
    Source("orange 3 % and yellow 4 %", Status.SECOND_HAND,
           "an older list at gist.github.com (a415d93f6e180685fc12)"),
    Source("temperature coefficients of the sixth band", Status.FROM_MEMORY, "IEC 60062"),
    Source("codes that can be read from both ends", Status.SECOND_HAND,
           "a textbook's chapter on resistor codes"),
]  # fmt: skip
