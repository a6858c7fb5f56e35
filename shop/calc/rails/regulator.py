"""A linear regulator at low and at high line: does it hold, and how hot does it get?

A d.c. meter reads the middle of the ripple, so crest = V + Vpp / 2 and valley = V - Vpp / 2. The
crest and the diodes' drop together follow the line; the ripple stays.
Headroom at low line: valley - V_out - dropout. Heat at high line: (V - V_out) I.
Junction: T_air + heat x R, R from junction to air. Units: volt, ampere, watt, kelvin per watt.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import Celsius, Hertz, MainsVolt, fit
from shop.calc.rails.rectifiers import (
    BRIDGE_DROP_VOLT,
    DIODE_SOURCE,
    DROPOUT_SOURCE,
    DROPOUT_VOLT,
    RIPPLE_SOURCE,
    DropoutVolt,
    DropVolt,
    LoadAmpere,
    Rectifier,
    RectifierKind,
    ReservoirFarad,
    ripple_volt,
    scaled,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

LOW_LINE, HIGH_LINE = 0.9, 1.1
SMALL_HEADROOM_VOLT: Final = 0.5
SMALL_MARGIN_KELVIN: Final = 25.0
MOST_JUNCTION_CELSIUS: Final = 125.0

EXAMPLE = {
    "reservoir_volt": 12,
    "line_volt": 230,
    "high_line_volt": 230,
    "output_volt": 5,
    "load_ampere": 1,
    "reservoir_farad": 0.0047,
    "thermal_kelvin_per_watt": 16,
    "air_celsius": 25,
    "most_junction_celsius": 150,
}

ReservoirVolt = Annotated[float, Meta(ge=0.5, le=2000)]


class RegulatorIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A series regulator, magnitudes in volts: a negative rail is given without its sign."""

    reservoir_volt: Annotated[
        ReservoirVolt,
        Meta(title="Before the regulator", description="volts d.c. on the reservoir, loaded"),
    ]
    line_volt: Annotated[
        MainsVolt, Meta(title="Line then", description="mains while that was measured, V r.m.s.")
    ]
    output_volt: Annotated[
        ReservoirVolt, Meta(title="After the regulator", description="the rail, volts d.c.")
    ]
    load_ampere: LoadAmpere
    low_line_volt: Annotated[
        MainsVolt | None,
        Meta(title="Lowest line", description="V r.m.s.; left out: 90 % of the line then"),
    ] = None
    high_line_volt: Annotated[
        MainsVolt | None,
        Meta(title="Highest line", description="V r.m.s.; left out: 110 % of the line then"),
    ] = None
    reservoir_farad: Annotated[
        ReservoirFarad | None,
        Meta(title="Reservoir", description="farad; left out: no ripple is taken off"),
    ] = None
    rectifier: RectifierKind = Rectifier.FULL_WAVE
    supply_hertz: Annotated[
        Hertz, Meta(title="Mains frequency", description="50 Hz has the larger ripple")
    ] = 50.0
    drop_volt: DropVolt = BRIDGE_DROP_VOLT
    dropout_volt: DropoutVolt = DROPOUT_VOLT
    thermal_kelvin_per_watt: Annotated[
        Annotated[float, Meta(ge=0.01, le=1000)] | None,
        Meta(
            title="Thermal resistance",
            description="junction to air, kelvin per watt: junction to case, washer and heat sink "
            "added; left out: only watts",
        ),
    ] = None
    air_celsius: Annotated[
        Celsius, Meta(title="Air inside", description="degree Celsius beside the heat sink")
    ] = 40.0
    most_junction_celsius: Annotated[
        float, Meta(ge=50, le=250, title="Hottest junction", description="from its sheet, °C")
    ] = MOST_JUNCTION_CELSIUS


class Regulator(msgspec.Struct, frozen=True):
    """Headroom at low line, heat at high line; `least_line_volt` is where it begins to drop out.

    `most_kelvin_per_watt` is the thermal resistance to air that just keeps the junction within its
    limit; None if there is no heat or the air is too warm already.
    """

    peak_to_peak_volt: float
    low_valley_volt: float
    headroom_volt: float
    least_line_volt: float
    high_reservoir_volt: float
    heat_watt: float
    junction_celsius: float | None
    most_kelvin_per_watt: float | None


@calculator(
    "rails.regulator",
    "Regulator headroom and heat",
    question="Does this regulator hold at low line, and does it stay cool enough at high line?",
    example=EXAMPLE,
)
def regulator(given: RegulatorIn) -> Answer[Regulator]:
    """Headroom at the lowest line, heat and junction at the highest.

    Units: volt, ampere, farad, watt, degree Celsius, kelvin per watt. Formula: head of the module.
    Raises BadInput if the output is above the reservoir or the lines are crossed.
    Source: P = (V_in - V_out) I and T = T_air + P R, ip331.com linear regulator page.
    """
    given = fit(given)
    _check(given)
    value = _value(given)
    outcome, remarks = _judge(given, value)
    text = _(
        "{headroom:.2g} V of headroom at {low:.0f} V, {heat:.2g} W at {high:.0f} V.",
        headroom=value.headroom_volt,
        low=_low(given),
        heat=value.heat_watt,
        high=_high(given),
    )
    return Answer(outcome, " ".join([text, *remarks]), value, _working(given, value))


def _low(given: RegulatorIn) -> float:
    return given.low_line_volt or given.line_volt * LOW_LINE


def _high(given: RegulatorIn) -> float:
    return given.high_line_volt or given.line_volt * HIGH_LINE


def _check(given: RegulatorIn) -> None:
    if given.output_volt >= given.reservoir_volt:
        reason = _("The volts before a regulator are above those after it.")
        raise BadInput("output_volt", reason, "above_reservoir")
    if _low(given) > _high(given):
        reason = _("The lowest line is above the highest.")
        raise BadInput("low_line_volt", reason, "limits_crossed")


def _value(given: RegulatorIn) -> Regulator:
    ripple = 0.0
    if given.reservoir_farad:
        ripple = ripple_volt(
            given.load_ampere, given.reservoir_farad, given.supply_hertz, given.rectifier
        )
    crest = given.reservoir_volt + ripple / 2
    valley = scaled(crest, given.drop_volt, _low(given) / given.line_volt) - ripple
    high = scaled(crest, given.drop_volt, _high(given) / given.line_volt) - ripple / 2
    heat = max(high - given.output_volt, 0.0) * given.load_ampere
    needed = given.output_volt + given.dropout_volt
    return Regulator(
        peak_to_peak_volt=ripple,
        low_valley_volt=valley,
        headroom_volt=valley - needed,
        least_line_volt=given.line_volt
        * (needed + ripple + given.drop_volt)
        / (crest + given.drop_volt),
        high_reservoir_volt=high,
        heat_watt=heat,
        junction_celsius=_junction(given, heat),
        most_kelvin_per_watt=_most_thermal(given, heat),
    )


def _junction(given: RegulatorIn, heat: float) -> float | None:
    if given.thermal_kelvin_per_watt is None:
        return None
    return given.air_celsius + heat * given.thermal_kelvin_per_watt


def _most_thermal(given: RegulatorIn, heat: float) -> float | None:
    room = given.most_junction_celsius - given.air_celsius
    return room / heat if heat > 1e-9 and room > 0 else None


def _judge(given: RegulatorIn, value: Regulator) -> tuple[Outcome, list[str]]:
    """Too hot is refused; dropping out, or little to spare either way, is a warning."""
    found = []
    outcome = Outcome.OK
    if value.headroom_volt < SMALL_HEADROOM_VOLT:
        outcome = Outcome.WARN
        found.append(
            _("It drops out below {line:.0f} V: the rail hums.", line=value.least_line_volt)
            if value.headroom_volt < 0
            else _("That is little headroom.")
        )
    if value.junction_celsius is not None:
        left = given.most_junction_celsius - value.junction_celsius
        if left < -1e-9:
            outcome = Outcome.REFUSE
            found.append(_("Too hot: it needs a better heat sink or less drop."))
        elif left < SMALL_MARGIN_KELVIN:
            outcome = Outcome.WARN
            found.append(_("Only {left:.0f} K below the junction's limit.", left=left))
    return outcome, found


def _working(given: RegulatorIn, value: Regulator) -> Working:
    low, high = _low(given), _high(given)
    lines = [
        Line(_("ripple, peak to peak"), "I / (n f C)", f"{value.peak_to_peak_volt:.3g} V"),
        Line(
            _("valley at {line:.0f} V", line=low),
            f"({given.reservoir_volt:g} + {value.peak_to_peak_volt / 2:.3g} + "
            f"{given.drop_volt:g}) x {low:g} / {given.line_volt:g} - {given.drop_volt:g} - "
            f"{value.peak_to_peak_volt:.3g}",
            f"{value.low_valley_volt:.3g} V",
        ),
        Line(
            _("headroom"),
            f"{value.low_valley_volt:.3g} - {given.output_volt:g} - {given.dropout_volt:g}",
            f"{value.headroom_volt:.3g} V",
        ),
        Line(_("begins to drop out at"), _("headroom nil"), f"{value.least_line_volt:.1f} V"),
        Line(
            _("heat at {line:.0f} V", line=high),
            f"({value.high_reservoir_volt:.3g} - {given.output_volt:g}) V x "
            f"{given.load_ampere:g} A",
            f"{value.heat_watt:.3g} W",
        ),
    ]
    if value.junction_celsius is not None:
        lines.append(
            Line(
                _("junction"),
                f"{given.air_celsius:g} + {value.heat_watt:.3g} W x "
                f"{given.thermal_kelvin_per_watt:g} K/W",
                f"{value.junction_celsius:.0f} °C",
            )
        )
    if value.most_kelvin_per_watt is not None:
        most = f"{value.most_kelvin_per_watt:.3g} K/W"
        lines.append(Line(_("junction to air at most"), "(T_max - T_air) / P", most))
    return Working(lines, _SOURCES, [_caution()])


def _caution() -> str:
    return _("Heat sinks may be live and hot: measure them to chassis before you touch.")


_SOURCES = [
    Source(
        "P = (V_in - V_out) I; T = T_air + P R",
        Status.SECOND_HAND,
        "ip331.com/physics-electronic/linear-regulator",
    ),
    RIPPLE_SOURCE,
    DROPOUT_SOURCE,
    DIODE_SOURCE,
    Source("line from 90 to 110 % where none is given; 0.5 V and 25 K to spare", Status.PROPOSED),
    Source("125 °C junction where none is given", Status.FROM_MEMORY),
]
