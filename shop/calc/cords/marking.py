"""What the print on a cord says, and whether the cord suits the unit."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.conductors import (
    AWG_SIZES,
    AWG_SOURCE,
    AWG_THREE_SOURCE,
    CORD_SIZES,
    IEC_CORD_SOURCE,
    SHORT_CORD_SOURCE,
    mm2_of_awg,
)
from shop.calc.cords.designations import (
    AMERICAN_CORD_SOURCE,
    HARMONISED_SOURCE,
    CordPrint,
    read_print,
)
from shop.calc.cords.required import SHORT_METRE
from shop.calc.fields import Ampere, MainsVolt, Metre, ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Working


class MarkingIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The print, and the unit the cord is for."""

    marking: Annotated[
        str,
        Meta(
            min_length=2,
            max_length=40,
            title="Print on the cord",
            description="H05VV-F 3G0.75 or SVT 18/3; blanks do not matter",
            examples=["H05VV-F 3G0.75"],
        ),
    ]
    load_ampere: Annotated[
        Ampere | None, Meta(title="Unit's current", description="ampere, with the plug's fuse")
    ] = None
    length_m: Annotated[
        Metre | None,
        Meta(title="Cord length", description="metre; if left out, no clause for short cords"),
    ] = None
    supply_volt: Annotated[
        MainsVolt, Meta(title="Upper limit of the supply", description="volt to earth")
    ] = 253.0
    protection_class: ProtectionClass = "I"


class MarkingOut(msgspec.Struct, frozen=True):
    """What is printed, the current it allows (None: size not printed or past the table)."""

    printed: CordPrint
    area_mm2: float | None
    allowed_ampere: float | None
    faults: list[str]


EXAMPLE = {"marking": "H05VV-F 3G0.75", "load_ampere": 1.6, "length_m": 1.8}


@calculator(
    "cords.marking",
    "Print on a cord",
    question="What does the print on this cord say, and does the cord suit the unit?",
    example=EXAMPLE,
)
def marking(given: MarkingIn) -> Answer[MarkingOut]:
    """Read a cord's designation and compare it with the unit.

    Units: V, mm2, A, m. Harmonised cords by the IEC table with its clause up to 2 m, North American
    ones by the NEC table with two loaded cores. WARN for a cord without earth on class I, wire for
    fixed wiring, too few volts or ampere. Raises BadInput for a print that is neither.
    Source: HD 361 and NEC cord types, second-hand; IEC 60335-1 table 11; NEC 400.5(A).
    """
    given = fit(given)
    printed = read_print(given.marking)
    if printed is None:
        reason = _("“{text}” is no cord designation known here", text=given.marking)
        raise BadInput("marking", reason, "unknown_designation")
    value = _value(given, printed)
    working = Working(_lines(value), _sources(printed), [*_by_clause(value), *_cautions(value)])
    leans = given.load_ampere is not None and given.load_ampere > (_any_length(value) or 0.0)
    unsure = bool(value.faults) or value.allowed_ampere is None or leans
    return Answer(Outcome.WARN if unsure else Outcome.OK, _text(value), value, working)


def _any_length(value: MarkingOut) -> float | None:
    """What the table allows whatever the length, A: 0.5 mm2 has no such row."""
    if value.printed.awg is not None:
        return value.allowed_ampere
    sizes = {size.square_millimetre: size.iec for size in CORD_SIZES}
    return sizes.get(value.area_mm2 or 0.0)


def _by_clause(value: MarkingOut) -> list[str]:
    """The clause for cords up to 2 m is second-hand: it stands beside the table, not for it."""
    least = _any_length(value)
    if value.allowed_ampere is None or least is None or value.allowed_ampere <= least:
        return []
    return [
        _(
            "{short:g} A by the clause for cords up to 2 m; {least:g} A at any length.",
            short=value.allowed_ampere,
            least=least,
        )
    ]


def _value(given: MarkingIn, printed: CordPrint) -> MarkingOut:
    area = printed.area_mm2 if printed.awg is None else mm2_of_awg(printed.awg)
    allowed = _allowed(printed, given.length_m)
    return MarkingOut(printed, area, allowed, _faults(given, printed, allowed))


def _allowed(printed: CordPrint, length_m: float | None) -> float | None:
    if printed.awg is not None:
        return next((row.two_cores for row in AWG_SIZES if row.awg == printed.awg), None)
    size = next((row for row in CORD_SIZES if row.square_millimetre == printed.area_mm2), None)
    if size is None:
        return None
    is_short = length_m is not None and length_m <= SHORT_METRE
    return (size.iec_short or size.iec) if is_short else size.iec


def _faults(given: MarkingIn, printed: CordPrint, allowed: float | None) -> list[str]:
    said = []
    if not printed.is_for_cords:
        said.append(_("wire for fixed wiring, not for a cord"))
    if given.protection_class == "I" and printed.has_earth is False:
        said.append(_("no earth core, but the unit is class I"))
    if printed.volt[0] < given.supply_volt:
        said.append(_("made for {volt} V to earth only", volt=printed.volt[0]))
    if given.load_ampere is not None and allowed is not None and allowed < given.load_ampere:
        said.append(_("{allowed:g} A allowed, {load:g} A wanted", allowed=allowed,
                      load=given.load_ampere))  # fmt: skip
    return said


def _text(value: MarkingOut) -> str:
    if value.faults:
        return _("Does not suit: {faults}.", faults="; ".join(value.faults))
    if value.allowed_ampere is None:
        return _("Its size is not printed, or no table has it: measure the copper.")
    return _(
        "{volt} V, {area:.3g} mm², up to {ampere:g} A.",
        volt="/".join(str(volt) for volt in dict.fromkeys(value.printed.volt)),
        area=value.area_mm2 or 0.0,
        ampere=value.allowed_ampere,
    )


def _lines(value: MarkingOut) -> list[Line]:
    printed = value.printed
    earth = {True: _("with an earth core"), False: _("without earth"), None: _("not printed")}
    sheath = _(printed.sheath) if printed.sheath else _("none")
    lines = [
        Line(_("volts to earth / between cores"), "", "{} / {} V".format(*printed.volt)),
        Line(_("insulation, sheath"), "", f"{_(printed.insulation)}, {sheath}"),
        Line(_("conductor"), "", _(printed.conductor)),
        Line(_("cores"), earth[printed.has_earth], str(printed.cores or "?")),
    ]
    if value.area_mm2 is not None:
        how = f"AWG {printed.awg}" if printed.awg is not None else _("as printed")
        lines.append(Line(_("cross-section"), how, f"{value.area_mm2:.3g} mm²"))
    if value.allowed_ampere is not None:
        lines.append(Line(_("current allowed"), "", f"{value.allowed_ampere:g} A"))
    return lines


def _sources(printed: CordPrint) -> list[Source]:
    if printed.kind == "harmonised":
        return [HARMONISED_SOURCE, IEC_CORD_SOURCE, SHORT_CORD_SOURCE]
    return [AMERICAN_CORD_SOURCE, AWG_SOURCE, AWG_THREE_SOURCE]


def _cautions(value: MarkingOut) -> list[str]:
    said = [
        _("Print says what the cord was, not what it is: look for cracks, heat and stiff spots."),
        _("Measure each core to its plug pin; the earth core parts last."),
        _("Local codes and licensed practice come first."),
    ]
    if value.printed.kind == "north_american" and value.printed.has_earth:
        said.append(_("Three cores are taken for line, neutral and earth: look for the green one."))
    return said
