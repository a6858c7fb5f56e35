"""Colour bands of miniature fuses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.fuses.marking import Characteristic, FuseMark, MarkOut, mark_out
from shop.calc.fuses.series import ANY_IEC, R10_MILLIAMPERE, in_words
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

DIGITS = (
    "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white",
)  # fmt: skip
KINDS: dict[str, Characteristic] = {
    "black": "FF", "red": "F", "yellow": "M", "blue": "T", "grey": "TT",
}  # fmt: skip
BAND_SOURCES = [
    Source(
        "IEC 60127-1 annex A: two digits as on resistors, fourth band the characteristic",
        Status.VERIFIED,
        "ajdocs.ru/gsp/31172/16",
    ),
    Source("Third band: power of ten in mA, as on resistors", Status.FROM_MEMORY),
]


Colour = Literal[
    "black", "brown", "red", "orange", "yellow", "green", "blue", "violet", "grey", "white"
]


class BandsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Four colours; the fourth band is the wider one."""

    bands: Annotated[
        list[Colour],
        Meta(
            min_length=4,
            max_length=4,
            title="Colours",
            description="four colours, the wider band last",
            examples=[["orange", "brown", "brown", "blue"]],
        ),
    ]


@calculator(
    "fuses.bands",
    "Read the colour bands of a fuse",
    question="Which fuse has these colour bands?",
    example={"bands": ["orange", "brown", "brown", "blue"]},
)
def bands(given: BandsIn) -> Answer[MarkOut]:
    """Current and characteristic of a fuse from its four colour bands.

    Units: mA. Raises BadInput at `bands` for colours of no member of the series.
    Source: IEC 60127-1 annex A; colours of the multiplier from memory.
    """
    given = fit(given)
    fuse = read_bands(given.bands)
    text = _("{mark}: read from its bands.", mark=fuse.text())
    current = in_words(fuse.current_milliampere)
    line = Line(_("bands"), ", ".join(given.bands), f"{fuse.characteristic} {current}")
    caution = _("Bands show neither volts nor breaking capacity.")
    return Answer(Outcome.OK, text, mark_out(fuse), Working([line], BAND_SOURCES, [caution]))


def read_bands(colours: Sequence[str]) -> FuseMark:
    """Four bands as a fuse. Only two digits are coded: the member that shares them is taken.

    Raises BadInput at `bands` for unknown colours or digits of no member; R10 goes before R20.
    Source: IEC 60127-1 annex A table A.1; colours of the multiplier from memory.
    """
    if len(colours) != 4:
        raise BadInput("bands", _("a coded fuse has four bands"))
    *digits, kind = colours
    if any(colour not in DIGITS for colour in digits) or kind not in KINDS:
        raise BadInput("bands", _("these colours are not in the code"))
    tens, ones, power = (DIGITS.index(colour) for colour in digits)
    coded = (10 * tens + ones) * 10**power
    for members in (R10_MILLIAMPERE, ANY_IEC):
        for member in members:
            if _two_digits(member) == (tens, ones, power):
                return FuseMark(float(member), KINDS[kind])
    raise BadInput("bands", _("{coded} mA is in no series", coded=coded))


def write_bands(fuse: FuseMark) -> list[str]:
    """The four bands of a fuse. Raises BadInput at `characteristic` where it is unknown."""
    if fuse.characteristic is None:
        raise BadInput("characteristic", _("the fourth band needs the characteristic"))
    tens, ones, power = _two_digits(fuse.current_milliampere)
    kind = next(colour for colour, letters in KINDS.items() if letters == fuse.characteristic)
    return [DIGITS[tens], DIGITS[ones], DIGITS[power], kind]


def _two_digits(milliampere: float) -> tuple[int, int, int]:
    power = len(str(int(milliampere))) - 2
    lead = int(milliampere) // 10**power
    return lead // 10, lead % 10, power
