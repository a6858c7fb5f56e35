"""Colour bands of miniature fuses."""

from __future__ import annotations

from collections.abc import Sequence

from shop.calc.fuses.marking import Characteristic, FuseMark
from shop.calc.fuses.series import ANY_IEC, R10_MILLIAMPERE
from shop.calc.words import _
from shop.calc.working import BadInput, Source, Status

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
