"""The limits for each setting of the variable transformer while a unit is brought up.

The idle power is known from the model sheet, the way the unit's current follows its voltage is
not: it lies between constant current (m = 0: class A, linear regulators) and a resistor (m = 1).
Limits span lamp law, kind of load and the spread of the idle power between specimens. While
it has less than half its nominal voltage the unit counts as a resistor. At settings up to that half
regulators and stages may not conduct at all: the current has no lower limit there, and the unit may
see all of the supply.
"""

from __future__ import annotations

from itertools import product
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span
from shop.calc.series_lamp.beyond import SOURCE as BEYOND_SOURCE
from shop.calc.series_lamp.beyond import above_lamp, above_unit
from shop.calc.series_lamp.gate import GateIn, Kind, SupplyKind, gate
from shop.calc.series_lamp.lamp import (
    EXPONENT_ENDS,
    SOURCES,
    Lamp,
    cautions,
    disagreements,
)
from shop.calc.series_lamp.loads import Mixed, Resistance, unit_current
from shop.calc.series_lamp.points import Point, operating_points
from shop.calc.series_lamp.thermal import CONDUCTION_SPAN
from shop.calc.series_lamp.thermal import SOURCES as HEAT_SOURCES
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

CONDUCTS_FROM = 0.5
VALVE_CONDUCTS_FROM = 0.75


class RampIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit, the lamp, and the settings of the variable transformer to have limits for."""

    idle_watt: Annotated[
        float,
        Meta(ge=0.01, le=5000, title="Idle power", description="at the volts the unit is set for"),
    ]
    unit_volt: Annotated[
        float,
        Meta(ge=1, le=500, title="Unit set for", description="as found on the unit, 1 to 500"),
    ]
    lamp: Annotated[Lamp, Meta(title="Lamp")]
    settings_volt: Annotated[
        list[float],
        Meta(
            min_length=1,
            max_length=200,
            title="Settings",
            description="outputs of the variable transformer in volts, rising",
        ),
    ]
    kind: Kind
    idle_spread: Annotated[
        float,
        Meta(
            ge=0,
            le=0.9,
            title="Spread of the idle power",
            description="between specimens, as a share: 0.25 is a quarter more or less",
        ),
    ] = 0.25
    lowest_exponent: Annotated[
        float,
        Meta(ge=0, le=4, title="Lowest exponent", description="m of the load, 0 constant current"),
    ] = 0.0
    highest_exponent: Annotated[
        float, Meta(ge=0, le=4, title="Highest exponent", description="m of the load, 1 resistor")
    ] = 1.0
    rail_volt: Annotated[
        Annotated[float, Meta(ge=-5000, le=5000)] | None,
        Meta(title="First rail", description="d.c. volts at full supply, with its sign"),
    ] = None


class RampStep(msgspec.Struct, frozen=True):
    """Limits at one setting: V at the unit, A, the rail as a share of its full value and in V.

    `rail_volt` is None where the rail's full value was not given; a regulated rail reaches its
    full value earlier, its limits hold before the regulator.
    """

    setting_volt: float
    unit_volt: Span
    current_a: Span
    rail_share: Span
    rail_volt: Span | None


class Ramp(msgspec.Struct, frozen=True):
    """The steps; `unit_volt_band` and `current_band` are (setting, low, high) for `band_at`."""

    steps: list[RampStep]
    unit_volt_band: list[tuple[float, float | None, float | None]]
    current_band: list[tuple[float, float | None, float | None]]


@calculator(
    "series_lamp.ramp",
    "Limits for each setting of the variable transformer",
    question="What may I read at each setting while I bring the unit up?",
    example={
        "idle_watt": 25,
        "unit_volt": 230,
        "lamp": {"watt": 60, "volt": 230},
        "settings_volt": [57.5, 115, 172.5, 207, 230],
        "kind": "linear",
        "rail_volt": 15,
    },
)
def ramp(given: RampIn) -> Answer[Ramp]:
    """Limits for unit volts and current along the output of the variable transformer.

    Refuses switch-mode supplies, gives no answer for unknown ones; warns of settings far above
    what the unit or the lamp is for.
    Raises BadInput if the settings do not rise or the exponents are crossed.
    Units: V, A, W. Source: the lamp law, see `series_lamp.lamp`.
    """
    given = fit(given)
    gated = gate(GateIn(given.kind))
    if gated.outcome not in (Outcome.OK, Outcome.WARN):
        return Answer(gated.outcome, gated.text, None, gated.working)
    _check(given)
    steps = [_step(given, setting) for setting in given.settings_volt]
    value = Ramp(
        steps,
        [(step.setting_volt, step.unit_volt.low, step.unit_volt.high) for step in steps],
        [(step.setting_volt, step.current_a.low, step.current_a.high) for step in steps],
    )
    text = _("Limits for {count} settings.", count=len(steps)) + f" {gated.text}"
    top = given.settings_volt[-1]
    dangers = [*above_unit(top, given.unit_volt), *above_lamp(top, given.lamp.volt)]
    outcome = Outcome.WARN if dangers else gated.outcome
    return Answer(outcome, " ".join([text, *dangers]), value, _working(steps))


def _check(given: RampIn) -> None:
    last = 0.0
    for index, setting in enumerate(given.settings_volt):
        if not max(last, 0.1) < setting <= 500:
            reason = _("Settings rise from above 0.1 V to at most 500 V.")
            raise BadInput(f"settings_volt[{index}]", reason, "not_rising")
        last = setting
    if given.lowest_exponent > given.highest_exponent:
        reason = _("The lowest exponent is above the highest.")
        raise BadInput("lowest_exponent", reason, "limits_crossed")


def _step(given: RampIn, setting: float) -> RampStep:
    solved = _solved(given, setting)
    volt_low, volt_high = min(pair[0] for pair in solved), max(pair[0] for pair in solved)
    current_low, current_high = min(pair[1] for pair in solved), max(pair[1] for pair in solved)
    if setting <= CONDUCTS_FROM * given.unit_volt:
        volt_high, current_low = setting, 0.0
    rail_low = 0.0 if _is_rectifier_cold(given, setting) else volt_low / given.unit_volt
    rail = Span(rail_low, volt_high / given.unit_volt)
    return RampStep(
        setting,
        Span(volt_low, volt_high),
        Span(current_low, current_high),
        rail,
        _rail_volt(given.rail_volt, rail),
    )


def _rail_volt(full: float | None, share: Span) -> Span | None:
    """The rail in V; a negative rail has its limits the other way round."""
    if full is None:
        return None
    ends = sorted((full * share.low, full * share.high))
    return Span(*ends)


def _is_rectifier_cold(given: RampIn, setting: float) -> bool:
    is_valve = given.kind is SupplyKind.VALVE_RECTIFIER
    return is_valve and setting < VALVE_CONDUCTS_FROM * given.unit_volt


def _solved(given: RampIn, setting: float) -> list[tuple[float, float]]:
    """(unit V, A) for every corner of what is not known."""
    powers = (1 - given.idle_spread, 1 + given.idle_spread)
    kinds = (given.lowest_exponent, given.highest_exponent)
    found = []
    for lamp, share, m in product(_lamps(given.lamp), powers, kinds):
        point = _operate(lamp, Mixed(given.idle_watt * share, given.unit_volt, m), setting)
        found.append((point.unit_volt, point.current_a))
    return found


def _lamps(lamp: Lamp) -> list[Lamp]:
    """The ends of the lamp law, and the filament by its heat, which passes most while dark."""
    by_law = [lamp.with_exponent(exponent) for exponent in EXPONENT_ENDS]
    return [*by_law, lamp.by_heat(CONDUCTION_SPAN[-1])]


def _operate(lamp: Lamp, load: Mixed, setting: float) -> Point:
    """The operating point; below half its nominal volts the unit counts as a resistor.

    Nothing keeps its current up at the lowest volts, and a limit that said so could not tell a
    short from a healthy unit.
    """
    knee = CONDUCTS_FROM * load.volt
    points = operating_points(lamp, load, setting)
    if points and (load.exponent >= 1 or points[0].unit_volt >= knee):
        return points[0]
    return operating_points(lamp, Resistance(knee / unit_current(load, knee)), setting)[0]


def _working(steps: list[RampStep]) -> Working:
    lines = [
        Line(
            f"{step.setting_volt:g} V",
            _("solved over the spans of lamp, m and idle power"),
            f"{step.unit_volt.low:.1f} – {step.unit_volt.high:.1f} V, "
            f"{step.current_a.low * 1000:.0f} – {step.current_a.high * 1000:.0f} mA",
        )
        for step in steps
    ]
    sources = [
        *SOURCES,
        *HEAT_SOURCES,
        Source("load between constant current and resistor", Status.PROPOSED),
        Source("a resistor below half the nominal voltage", Status.PROPOSED),
        Source("idle power spreads 25 % between specimens", Status.PROPOSED),
        BEYOND_SOURCE,
    ]
    stop = [
        _(
            "Stop when the current is above its limit or rises with time, on hiss or smell, on a "
            "pulsing lamp, or when a rail capacitor is more than 10 K above the room."
        ),
        _("A lamp brighter than at the step before is normal; the limits say how much."),
    ]
    return Working(lines, sources, cautions() + stop, disagreements())
