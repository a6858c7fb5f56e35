"""The text of a new rating plate, from the values worked out, and whether they agree."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Ampere, Hertz, MainsVolt, Name, ProtectionClass, VoltAmpere, fit
from shop.calc.fuses.ceiling import CEILING_SOURCE, primary_percent
from shop.calc.fuses.marking import FuseMark, MarkText, read_mark
from shop.calc.fuses.scale import rated_volt_suffices
from shop.calc.registry import calculator
from shop.calc.voltage_parts.fittings import PLATE_SOURCE
from shop.calc.voltage_parts.parts import HighVolt, NewVolt, upper_limit
from shop.calc.voltage_parts.plate import plate_lines
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

AGREES_WITHIN = 0.10
AGREE_SOURCE = Source("Volt × ampere within 10 % of the volt-ampere", Status.PROPOSED)


class RatingPlateIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the unit is now."""

    nominal_volt: NewVolt
    hz: Annotated[
        list[Annotated[Hertz, Meta(title="Frequency")]],
        Meta(min_length=1, max_length=2, title="Frequencies", description="hertz: 50, 60 or both"),
    ]
    high_volt: HighVolt = None
    old_volt: Annotated[
        MainsVolt | None,
        Meta(title="Voltage before", description="volt; if it changed, the plate says so"),
    ] = None
    rated_va: Annotated[
        VoltAmpere | None, Meta(title="Rated power", description="volt-ampere on the old plate")
    ] = None
    rated_watt: Annotated[
        VoltAmpere | None, Meta(title="Rated watts", description="watt on the old plate")
    ] = None
    line_ampere: Annotated[
        Ampere | None, Meta(title="Line current", description="ampere at the new voltage")
    ] = None
    fuse_mark: Annotated[
        MarkText | None, Meta(title="Fuse", description="mark of the fuse fitted now")
    ] = None
    protection_class: ProtectionClass = "I"
    on: Annotated[date | None, Meta(title="Date", description="day of the conversion")] = None
    shop: Annotated[Name | None, Meta(title="Shop", description="who converted it")] = None


class RatingPlateOut(msgspec.Struct, frozen=True):
    """The plate, line by line; the line beside the fuse holder; and what does not agree."""

    lines: list[str]
    beside_fuse: str | None
    missing: list[str]
    faults: list[str]


EXAMPLE = {
    "nominal_volt": 230,
    "hz": [50],
    "old_volt": 120,
    "rated_va": 150,
    "line_ampere": 0.652,
    "fuse_mark": "T800mAL250V",
    "on": "2026-03-02",
}


@calculator(
    "voltage_parts.rating_plate",
    "Text of the new rating plate",
    question="What must the rating plate say after the conversion?",
    example=EXAMPLE,
)
def rating_plate(given: RatingPlateIn) -> Answer[RatingPlateOut]:
    """Put together the lines of a rating plate and check that its values agree.

    Units: V, Hz, VA, W, A. Volt times ampere must lie within 10 % of the volt-ampere, the fuse's
    volts reach the supply, its current the line's and not past building practice. Raises BadInput
    for a fuse that is none.
    Source: IEC 62368-1 annex F, IEC 60065 clause 5, both from memory.
    """
    given = fit(given)
    fuse = read_mark(given.fuse_mark, "fuse_mark") if given.fuse_mark else None
    value = RatingPlateOut(
        lines=[*_plate(given, fuse), *_by(given)],
        beside_fuse=fuse.text() if fuse else None,
        missing=_missing(given, fuse),
        faults=_faults(given, fuse),
    )
    working = Working(
        _lines(given, value), [PLATE_SOURCE, AGREE_SOURCE, CEILING_SOURCE], _cautions(value)
    )
    clear = not value.missing and not value.faults
    text = "; ".join(value.lines) + "."
    return Answer(Outcome.OK if clear else Outcome.WARN, text, value, working)


def _plate(given: RatingPlateIn, fuse: FuseMark | None) -> list[str]:
    return plate_lines(
        volt=given.nominal_volt,
        hz=given.hz,
        va=given.rated_va,
        watt=given.rated_watt,
        ampere=given.line_ampere,
        fuse=fuse,
        protection_class=given.protection_class,
    )


def _by(given: RatingPlateIn) -> list[str]:
    """Who changed it and when; without a change nothing."""
    said = []
    if given.old_volt is not None and given.old_volt != given.nominal_volt:
        said.append(_("Converted from {volt:g} V", volt=given.old_volt))
    if given.on is not None:
        said.append(given.on.isoformat())
    if given.shop is not None:
        said.append(given.shop)
    return said


def _missing(given: RatingPlateIn, fuse: FuseMark | None) -> list[str]:
    said = []
    if given.rated_va is None and given.rated_watt is None and given.line_ampere is None:
        said.append(_("current or power"))
    if fuse is None:
        said.append(_("fuse"))
    elif fuse.rated_volt is None:
        said.append(_("the fuse's volts"))
    return said


def _faults(given: RatingPlateIn, fuse: FuseMark | None) -> list[str]:
    said = [_power_fault(given), *(_fuse_faults(given, fuse) if fuse else [])]
    return [fault for fault in said if fault]


def _power_fault(given: RatingPlateIn) -> str:
    if given.rated_va is None or given.line_ampere is None:
        return ""
    product = given.nominal_volt * given.line_ampere
    if abs(product / given.rated_va - 1) <= AGREES_WITHIN:
        return ""
    return _(
        "{volt:g} V × {ampere:g} A is {product:.0f} VA, not {va:g} VA",
        volt=given.nominal_volt,
        ampere=given.line_ampere,
        product=product,
        va=given.rated_va,
    )


def _fuse_faults(given: RatingPlateIn, fuse: FuseMark) -> list[str]:
    said = []
    high = upper_limit(given.nominal_volt, given.high_volt)
    rated = fuse.rated_volt
    if rated is not None and not rated_volt_suffices(rated, given.nominal_volt, high):
        said.append(_("the fuse is rated for {volt:g} V only", volt=rated))
    if given.line_ampere and fuse.current_milliampere < given.line_ampere * 1000:
        said.append(_("the fuse lies below the line current"))
    ceiling = _ceiling_ampere(given)
    if ceiling is not None and fuse.current_milliampere > ceiling * 1000 * (1 + 1e-9):
        said.append(
            _("the fuse lies above any building practice, {ceiling:.3g} A", ceiling=ceiling)
        )
    return said


def _ceiling_ampere(given: RatingPlateIn) -> float | None:
    """The largest fuse of building practice for the line current, A; None without a current."""
    ampere = given.line_ampere
    if ampere is None and given.rated_va is not None:
        ampere = given.rated_va / given.nominal_volt
    return None if ampere is None else ampere * primary_percent(ampere) / 100


def _lines(given: RatingPlateIn, value: RatingPlateOut) -> list[Line]:
    lines = [Line(_("plate"), "", line) for line in value.lines]
    if value.beside_fuse:
        lines.append(Line(_("beside the fuse holder"), "", value.beside_fuse))
    if given.rated_va is not None and given.line_ampere is not None:
        product = given.nominal_volt * given.line_ampere
        lines.append(Line(_("volt × ampere"), "V I", f"{product:.4g} VA"))
    return lines


def _cautions(value: RatingPlateOut) -> list[str]:
    said = [*(_("Does not agree: {fault}.", fault=fault) for fault in value.faults)]
    if value.missing:
        said.append(_("Not on the plate yet: {missing}.", missing=", ".join(value.missing)))
    return [
        *said,
        _("Leave the maker's plate readable; the new one stands beside it."),
        _("A computed fuse is a proposal; the maker's marking wins."),
    ]
