"""The mains cord for a current: cross-section by IEC and UK habit, AWG, resistance, inlet."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.conductors import (
    AWG_SIZES,
    AWG_SOURCE,
    AWG_THREE_SOURCE,
    CORD_SIZES,
    IEC_CORD_SOURCE,
    RESISTANCE_BETWEEN,
    RESISTANCE_SOURCE,
    SHORT_CORD_SOURCE,
    UK_CORD_SOURCE,
    AwgSize,
    CordSize,
    ohm_per_metre,
)
from shop.calc.cords.core_colours import COLOUR_SOURCE, CORE_COLOURS, CoreColours
from shop.calc.cords.couplers import COUPLER_SOURCE, Coupler, inlets_for
from shop.calc.fields import Ampere, Celsius, Metre, ProtectionClass, fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

SHORT_METRE = 2.0
# A 115 V unit after its conversion: 7.5 A over 1.8 m.
EXAMPLE = {"rated_ampere": 7.5, "length_m": 1.8}


class CordIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit's current at the new voltage, its cord, and where the inlet sits."""

    rated_ampere: Annotated[
        float,
        Meta(
            ge=0.001,
            le=40,
            title="Unit's current",
            description="ampere at the new voltage, 0.001 to 40",
            examples=[7.5],
        ),
    ]
    length_m: Annotated[Metre, Meta(title="Cord length", description="metre, plug to unit")]
    plug_fuse_ampere: Annotated[
        Ampere | None,
        Meta(title="Fuse in the plug", description="ampere; counts if larger than the unit's own"),
    ] = None
    protection_class: ProtectionClass = "I"
    inlet_pin_celsius: Annotated[
        Celsius,
        Meta(title="Pins of the inlet", description="°C in use; above 70 a hot type is needed"),
    ] = 70.0
    core_celsius: Annotated[
        Celsius, Meta(title="Copper", description="°C for the resistance; tables say 20")
    ] = 20.0


class CordOut(msgspec.Struct, frozen=True):
    """Cross-sections in mm2 by each rule; None where its table ends.

    `iec_short_mm2` is the clause for cords up to 2 m, None for a longer cord.
    """

    current_ampere: float
    iec_mm2: float | None
    iec_short_mm2: float | None
    uk_mm2: float | None
    awg_two_cores: int | None
    awg_three_cores: int | None
    earth_core_mm2: float | None
    milliohm_per_metre: float | None
    earth_core_ohm: float | None
    volt_drop: float | None
    inlets: list[Coupler]
    core_colours: list[CoreColours]


EARTH_CORE_SOURCE = Source(
    "IEC 60227 and 60245, NEC 250.122: the earth core is as thick as the line core",
    Status.FROM_MEMORY,
)
EARTH_LAST_SOURCE = Source(
    "IEC 61140: the protective core parts last",
    Status.SECOND_HAND,
    "bre-trafo.de/en/products/technology/protection-classes/",
)


@calculator(
    "cords.required",
    "Mains cord for a current",
    question="How thick must the mains cord be for this current?",
    example=EXAMPLE,
)
def required(given: CordIn) -> Answer[CordOut]:
    """The least cross-section of a mains cord by each rule, side by side.

    Units: A, m, mm2, AWG, mohm/m, V. The current counted is the larger of the unit's own and the
    plug's fuse. The drop is there and back, 2 L r I. The earth core is as thick as the line core.
    Source: IEC 60335-1 table 11, UK convention, NEC table 400.5(A), IEC 60228 class 5.
    """
    given = fit(given)
    current = max(given.rated_ampere, given.plug_fuse_ampere or 0.0)
    value = _value(given, current)
    working = Working(_lines(given, value), _sources(), _cautions(value), _differ())
    if value.iec_mm2 is None:
        text = _("{current:g} A is beyond the table of flexible cords.", current=current)
        return Answer(Outcome.NO_ANSWER, text, value, working)
    text = _("{mm2:g} mm² by IEC for {current:g} A.", mm2=value.iec_mm2, current=current)
    if value.iec_short_mm2 is not None and value.iec_short_mm2 < value.iec_mm2:
        text += " " + _(
            "Up to 2 m a clause allows {mm2:g} mm²; both are shown.", mm2=value.iec_short_mm2
        )
    return Answer(Outcome.OK, text, value, working)


def _value(given: CordIn, current: float) -> CordOut:
    iec = _least(current, lambda size: size.iec)
    short = _least(current, lambda size: size.iec_short or size.iec)
    size = iec or short
    ohm = ohm_per_metre(size, given.core_celsius) if size else None
    return CordOut(
        current_ampere=current,
        iec_mm2=iec,
        iec_short_mm2=short if given.length_m <= SHORT_METRE else None,
        uk_mm2=_least(current, lambda size: size.uk),
        awg_two_cores=_least_awg(current, lambda size: size.two_cores),
        awg_three_cores=_least_awg(current, lambda size: size.three_cores),
        earth_core_mm2=iec if given.protection_class == "I" else None,
        milliohm_per_metre=ohm * 1000 if ohm else None,
        earth_core_ohm=ohm * given.length_m if ohm and given.protection_class == "I" else None,
        volt_drop=2 * given.length_m * ohm * given.rated_ampere if ohm else None,
        inlets=inlets_for(given.protection_class, given.rated_ampere, given.inlet_pin_celsius),
        core_colours=list(CORE_COLOURS),
    )


def _least(current: float, ampere_of: Callable[[CordSize], float | None]) -> float | None:
    for size in CORD_SIZES:
        ampere = ampere_of(size)
        if ampere is not None and ampere >= current - 1e-9:
            return size.square_millimetre
    return None


def _least_awg(current: float, ampere_of: Callable[[AwgSize], float]) -> int | None:
    fitting = (size.awg for size in AWG_SIZES if ampere_of(size) >= current - 1e-9)
    return next(fitting, None)


def _lines(given: CordIn, value: CordOut) -> list[Line]:
    none = _("not in the table")
    lines = [
        Line(_("current counted"), "max(I_unit, I_plug fuse)", f"{value.current_ampere:g} A"),
        Line(_("IEC, any length"), "IEC 60335-1 table 11", _mm2(value.iec_mm2, none)),
    ]
    if given.length_m <= SHORT_METRE:
        lines.append(Line(_("IEC, up to 2 m"), "L ≤ 2 m", _mm2(value.iec_short_mm2, none)))
    lines.append(Line(_("UK convention"), "", _mm2(value.uk_mm2, none)))
    awg = f"AWG {value.awg_two_cores}" if value.awg_two_cores is not None else none
    lines.append(Line(_("North America, two loaded cores"), "NEC 400.5(A)", awg))
    if value.volt_drop is not None:
        lines.append(Line(_("drop in the cord"), "2 L r I", f"{value.volt_drop:.3g} V"))
    return lines


def _mm2(size: float | None, none: str) -> str:
    return f"{size:g} mm²" if size is not None else none


def _sources() -> list[Source]:
    return [
        IEC_CORD_SOURCE, SHORT_CORD_SOURCE, UK_CORD_SOURCE, AWG_SOURCE, AWG_THREE_SOURCE,
        RESISTANCE_SOURCE, RESISTANCE_BETWEEN, COUPLER_SOURCE, COLOUR_SOURCE,
        EARTH_CORE_SOURCE, EARTH_LAST_SOURCE,
    ]  # fmt: skip


def _cautions(value: CordOut) -> list[str]:
    said = [
        _("Measure, never trust the colour: each core to its plug pin, on any old cord."),
        _("The protective core is left longer, so that it parts last."),
        _("Local codes and licensed practice come first."),
    ]
    if not value.inlets:
        said.append(_("No inlet of the table fits: a fixed cord, or another inlet."))
    return said


def _differ() -> list[str]:
    return [
        _("1.5 mm²: 15 A by the UK page, 16 A elsewhere; IEC counts 16 A here."),
        _("Old German cords: one page gives grey line and black neutral, others the reverse."),
    ]
