"""Colour bands of a resistor, read from both ends where both make sense."""

from __future__ import annotations

from contextlib import suppress
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.decimals import canonical, shifted
from shop.calc.fields import fit
from shop.calc.marks.colours import COLOURS, NO_BAND, SOURCES, Colour, ColourRow, ColourTolerance
from shop.calc.marks.letters import is_preferred
from shop.calc.preferred_values import SERIES_SOURCE
from shop.calc.quantities import Quantity
from shop.calc.readings import format_reading
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Working


class ColourBandsIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The bands of a resistor, from the end nearer to a band."""

    bands: Annotated[
        list[Annotated[Colour, Meta(title="Band")]],
        Meta(
            min_length=1,
            max_length=6,
            title="Bands",
            description="3 to 6, from the end nearer to a band; leave those open that are not "
            "there; body, tip and dot in this order; a single black band is a link",
        ),
    ]


class ColourReading(msgspec.Struct, frozen=True):
    """What the bands mean from one end. More than one tolerance: editions disagree."""

    ohm: float
    shown: str
    tolerances: list[ColourTolerance]
    lowest_ohm: float
    highest_ohm: float
    ppm_per_kelvin: int | None
    is_preferred: bool


class ResistorColours(msgspec.Struct, frozen=True):
    """The reading as given, and the one from the other end where that makes sense too."""

    reading: ColourReading
    from_other_end: ColourReading | None


@calculator(
    "marks.resistor_colours",
    "Colour bands of a resistor",
    question="What value do these colour bands give?",
    # A textbook decode: brown black orange gold is 10 kilohm, 5 %.
    example={"bands": ["brown", "black", "orange", "gold"]},
)
def resistor_colours(given: ColourBandsIn) -> Answer[ResistorColours]:
    """Value, tolerance and drift of 3 to 6 bands, and the reading from the other end.

    Formula: digits x 10^multiplier ohm. Raises BadInput (no_such_band) with the band at fault.
    Source: IEC 60062 (second-hand).
    """
    given = fit(given)
    reading = read_bands(given.bands)
    back = _from_other_end(given.bands)
    doubts = _doubts(reading, back)
    disagreements = _editions(reading)
    outcome = Outcome.WARN if doubts or disagreements else Outcome.OK
    text = _("{shown}, {tolerance}.", shown=reading.shown, tolerance=_tolerance(reading))
    working = Working(_lines(given.bands, reading, back), [*SOURCES, SERIES_SOURCE], doubts,
                      disagreements)  # fmt: skip
    return Answer(outcome, text, ResistorColours(reading, back), working)


def read_bands(bands: list[Colour]) -> ColourReading:
    """What the bands mean from the first to the last. Raises BadInput (no_such_band)."""
    if bands == ["black"]:
        return ColourReading(0.0, format_reading("0", Quantity.RESISTANCE), [], 0.0, 0.0, None,
                             True)  # fmt: skip
    if len(bands) < 3:
        raise BadInput("bands", _("A resistor has three bands or more."), "no_such_band")
    count = 2 if len(bands) < 5 else 3
    digits = "".join(_digit(index, colour) for index, colour in enumerate(bands[:count]))
    text = canonical(shifted(digits, COLOURS[bands[count]].power))
    tolerances = _tolerances(bands, count + 1)
    widest = max(one.percent for one in tolerances) / 100
    return ColourReading(
        float(text),
        format_reading(text, Quantity.RESISTANCE),
        tolerances,
        float(text) * (1 - widest),
        float(text) * (1 + widest),
        _drift(bands),
        digits[0] != "0" and is_preferred(text),
    )


def _digit(index: int, colour: Colour) -> str:
    digit = COLOURS[colour].digit
    if digit is None:
        raise _no_such_band(index, _("{colour} is no digit: read from the other end.",
                                     colour=colour))  # fmt: skip
    return digit


def _tolerances(bands: list[Colour], at: int) -> list[ColourTolerance]:
    if len(bands) <= at:
        return list(NO_BAND)
    row: ColourRow = COLOURS[bands[at]]
    if not row.tolerances:
        raise _no_such_band(at, _("{colour} is no tolerance: read from the other end.",
                                  colour=bands[at]))  # fmt: skip
    return list(row.tolerances)


def _drift(bands: list[Colour]) -> int | None:
    if len(bands) < 6:
        return None
    drift = COLOURS[bands[5]].ppm_per_kelvin
    if drift is None:
        reason = _("{colour} is no temperature coefficient.", colour=bands[5])
        raise _no_such_band(5, reason)
    return drift


def _no_such_band(index: int, reason: str) -> BadInput:
    return BadInput(f"bands[{index}]", reason, "no_such_band")


def _from_other_end(bands: list[Colour]) -> ColourReading | None:
    """The bands the other way round, where they have a meaning of their own."""
    back = bands[::-1]
    with suppress(BadInput):
        return read_bands(back) if back != bands and back[0] != "black" else None
    return None


def _doubts(reading: ColourReading, back: ColourReading | None) -> list[str]:
    doubts = []
    if back:
        doubts.append(
            _("From the other end it reads {shown}: measure it out of circuit.", shown=back.shown)
        )
    if not reading.is_preferred:
        says = _("{shown} is no preferred value: look again which end comes first.",
                 shown=reading.shown)  # fmt: skip
        doubts.append(says)
    return doubts


def _editions(reading: ColourReading) -> list[str]:
    """Where editions give one colour two tolerances: shown, never averaged."""
    if len(reading.tolerances) < 2:
        return []
    listed = ", ".join(f"±{one.percent:g} % ({_(one.edition)})" for one in reading.tolerances)
    return [_("The lists disagree about the tolerance: {listed}.", listed=listed)]


def _tolerance(reading: ColourReading) -> str:
    listed = [f"±{one.percent:g} %" for one in reading.tolerances]
    return _(" or ").join(listed) if listed else _("a link")


def _lines(bands: list[Colour], reading: ColourReading, back: ColourReading | None) -> list[Line]:
    lines = [
        Line(", ".join(bands), _("digits x 10^multiplier"), reading.shown),
        Line(_("limits"), _tolerance(reading),
             f"{reading.lowest_ohm:.6g} Ω … {reading.highest_ohm:.6g} Ω"),
    ]  # fmt: skip
    if reading.ppm_per_kelvin is not None:
        lines.append(Line(_("drift"), bands[5], f"{reading.ppm_per_kelvin} ppm/K"))
    if back:
        shown = f"{back.shown}, {_tolerance(back)}"
        lines.append(Line(_("from the other end"), ", ".join(bands[::-1]), shown))
    return lines
