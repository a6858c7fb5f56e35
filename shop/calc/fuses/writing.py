"""What is to stand on a fuse: the marking and the colour bands, from its ratings."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.fuses.bands import BAND_SOURCES, write_bands
from shop.calc.fuses.gates import BREAKING_SOURCE, GATE_MEMORY, GATE_SOURCE
from shop.calc.fuses.marking import (
    MARKING_SOURCES,
    BreakingLetter,
    Characteristic,
    FuseMark,
    MarkOut,
    mark_out,
    require_member,
)
from shop.calc.fuses.series import SERIES_MEMORY, SERIES_SOURCE, in_words
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Working

EXAMPLE = {
    "rated_ampere": 0.315, "characteristic": "T", "breaking_letter": "L", "rated_volt": 250,
}  # fmt: skip
KINDS = {
    "FF": _noop("FF, very quick"),
    "F": _noop("F, quick"),
    "M": _noop("M, medium"),
    "T": _noop("T, time-lag"),
    "TT": _noop("TT, long time-lag"),
}
LETTERS = {"L": _noop("L, low"), "E": _noop("E, enhanced"), "H": _noop("H, high")}


class WriteIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The ratings of an IEC 60127 fuse."""

    rated_ampere: Annotated[
        float,
        Meta(ge=0.03, le=20, title="Rated current", description="a member of R10 or R20, to 20 A"),
    ]
    characteristic: Annotated[
        Characteristic,
        Meta(
            title="Characteristic",
            description="how quick it is",
            extra_json_schema={"x-labels": KINDS},
        ),
    ]
    breaking_letter: Annotated[
        BreakingLetter | None,
        Meta(
            title="Breaking capacity",
            description="the letter; never lower than the old fuse had",
            extra_json_schema={"x-labels": LETTERS},
        ),
    ] = None
    rated_volt: Annotated[
        Annotated[int, Meta(ge=12, le=1000)] | None,
        Meta(title="Rated volts", description="12 to 1000 V a.c., at least the supply's"),
    ] = None


class WriteOut(msgspec.Struct, frozen=True):
    """The marking with what follows from it, and the four colours."""

    mark: MarkOut
    bands: list[str]


@calculator(
    "fuses.write",
    "Write a fuse marking",
    question="What stands on such a fuse, in letters and in colours?",
    example=EXAMPLE,
)
def write(given: WriteIn) -> Answer[WriteOut]:
    """Write the marking and the colour bands of a fuse.

    Units: A, V. Raises BadInput at `rated_ampere` for a current in no series (with the neighbours).
    Source: IEC 60127-1 clause 6 and annex A, IEC 60127-2 clause 6.1; third colour from memory.
    """
    given = fit(given)
    milliampere = round(given.rated_ampere * 1000, 6)
    require_member(milliampere, "rated_ampere", "iec")
    fuse = FuseMark(milliampere, given.characteristic, given.breaking_letter, given.rated_volt)
    value = WriteOut(mark_out(fuse), write_bands(fuse))
    lines = [
        Line(_("marking"), _("kind, current, breaking capacity, volts"), fuse.text()),
        Line(_("bands"), in_words(milliampere), ", ".join(value.bands)),
    ]
    sources = [*MARKING_SOURCES[:2], *BAND_SOURCES, SERIES_SOURCE, SERIES_MEMORY]
    cautions = [_("Bands show neither volts nor breaking capacity.")]
    more = [BREAKING_SOURCE, GATE_SOURCE, GATE_MEMORY]
    text = _("{mark}, bands {bands}.", mark=fuse.text(), bands=", ".join(value.bands))
    return Answer(Outcome.OK, text, value, Working(lines, [*sources, *more], cautions))
