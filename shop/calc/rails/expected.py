"""What a rail should read at each setting of the variable transformer, with the lamp or without.

Before a regulator: (V + Vd) s - Vd, s being the unit's volts over its rated supply, Vd the
diodes' drop. Behind a regulator: what is before it less the dropout, until the rail is reached.
Behind a lamp s is a span, by the same rules as the limits of the ramp.
Units: volt, watt, per cent.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.rails.rectifiers import (
    BRIDGE_DROP_VOLT,
    DIODE_SOURCE,
    DROPOUT_SOURCE,
    DROPOUT_VOLT,
    DropoutVolt,
    DropVolt,
    scaled,
)
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span
from shop.calc.series_lamp.beyond import above_unit
from shop.calc.series_lamp.gate import GateIn, SupplyKind, gate
from shop.calc.series_lamp.lamp import Lamp
from shop.calc.series_lamp.ramp import VALVE_CONDUCTS_FROM, RampIn, ramp
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

SHARES: Final = (0.1, 0.25, 0.5, 0.75, 0.9, 1.0)
SPREAD_PERCENT: Final = 10.0

EXAMPLE = {
    "rail_volt": 15,
    "rated_volt": 230,
    "stage": "regulated",
    "raw_volt": 22,
}


class Stage(StrEnum):
    """What stands between the rectifier and the rail."""

    RAW = "raw"
    REGULATED = "regulated"


STAGE_WORDS: Final = {
    "raw": _noop("straight from the rectifier"),
    "regulated": _noop("regulated"),
}
KIND_WORDS: Final = {
    "linear": _noop("transformer and solid-state rectifier"),
    "valve_rectifier": _noop("valve rectifier"),
    "motor": _noop("with a motor"),
    "relay": _noop("with relays"),
    "switch_mode": _noop("switch-mode"),
    "unknown": _noop("not known"),
}


class ExpectedIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A rail at its rated supply, and how the unit is brought up."""

    rail_volt: Annotated[
        float,
        Meta(ge=-5000, le=5000, title="Rail", description="at the rated supply, V d.c., with sign"),
    ]
    rated_volt: Annotated[
        float, Meta(ge=1, le=500, title="Rated supply", description="the unit is set for, V r.m.s.")
    ]
    stage: Annotated[
        Stage,
        Meta(
            title="Kind of rail",
            description="with a regulator or straight from the rectifier",
            extra_json_schema={"x-labels": STAGE_WORDS},
        ),
    ] = Stage.RAW
    raw_volt: Annotated[
        Annotated[float, Meta(ge=0.5, le=5000)] | None,
        Meta(
            title="Before the regulator",
            description="volts d.c. at the rated supply, without sign; a regulated rail needs it",
        ),
    ] = None
    drop_volt: DropVolt = BRIDGE_DROP_VOLT
    dropout_volt: DropoutVolt = DROPOUT_VOLT
    spread_percent: Annotated[
        float,
        Meta(ge=0, le=50, title="Spread", description="between specimens, per cent either way"),
    ] = SPREAD_PERCENT
    settings_volt: Annotated[
        Annotated[
            list[Annotated[float, Meta(ge=0.1, le=500)]], Meta(min_length=1, max_length=60)
        ]
        | None,
        Meta(title="Settings", description="volts out of the variable transformer, rising; left "
             "out: 10, 25, 50, 75, 90 and 100 % of the rated supply"),
    ] = None  # fmt: skip
    kind: Annotated[
        SupplyKind,
        Meta(
            title="Supply inside",
            description="kind of supply of the unit",
            extra_json_schema={"x-labels": KIND_WORDS},
        ),
    ] = SupplyKind.LINEAR
    lamp: Annotated[
        Lamp | None, Meta(title="Lamp", description="in series; left out: straight to the unit")
    ] = None
    idle_watt: Annotated[
        Annotated[float, Meta(ge=0.01, le=5000)] | None,
        Meta(title="Idle power", description="watt at the rated supply; behind a lamp it is "
             "needed"),
    ] = None  # fmt: skip


class ExpectedStep(msgspec.Struct, frozen=True):
    """One setting: the unit's own volts, and the rail's lowest and highest with its sign."""

    setting_volt: float
    unit_volt: Span
    rail_volt: Span


class Expected(msgspec.Struct, frozen=True):
    """The steps; `regulates_from_volt` is at the unit, None for a raw rail."""

    steps: list[ExpectedStep]
    regulates_from_volt: float | None


@calculator(
    "rails.expected",
    "The rail at each setting of the ramp",
    question="What should this rail read at each setting of the variable transformer?",
    example=EXAMPLE,
)
def expected(given: ExpectedIn) -> Answer[Expected]:
    """Lowest and highest reading of a rail along the ramp.

    Units: volt, watt, per cent. Formula: head of the module.
    Refuses switch-mode supplies, gives no answer for unknown ones. Raises BadInput if a regulated
    rail comes without the volts before it, a lamp without the idle power, or settings fall.
    Warns of settings far above the rated supply.
    Source: the limits of `series_lamp.ramp`; the rest follows from the formula.
    """
    given = fit(given)
    gated = gate(GateIn(given.kind))
    if gated.outcome not in (Outcome.OK, Outcome.WARN):
        return Answer(gated.outcome, gated.text, None, gated.working)
    _check(given)
    steps = [_step(given, setting, unit) for setting, unit in _unit_spans(given)]
    value = Expected(steps, _regulates_from(given))
    outcome, text = _words(given, value, gated.outcome)
    if dangers := above_unit(_settings(given)[-1], given.rated_volt):
        outcome, text = Outcome.WARN, " ".join([text, *dangers])
    return Answer(outcome, text, value, _working(given, value, gated.working.cautions))


def _check(given: ExpectedIn) -> None:
    if given.stage is Stage.REGULATED and given.raw_volt is None:
        reason = _("A regulated rail needs the volts before its regulator.")
        raise BadInput("raw_volt", reason, "missing")
    if given.raw_volt is not None and given.raw_volt <= abs(given.rail_volt):
        reason = _("The volts before a regulator are above those after it.")
        raise BadInput("raw_volt", reason, "below_rail")
    if given.lamp is not None and given.idle_watt is None:
        reason = _("Behind a lamp the idle power decides what is left for the unit.")
        raise BadInput("idle_watt", reason, "missing")
    settings = _settings(given)
    for index in range(1, len(settings)):
        if settings[index] <= settings[index - 1]:
            reason = _("Each setting is above the one before.")
            raise BadInput(f"settings_volt[{index}]", reason, "not_rising")


def _settings(given: ExpectedIn) -> list[float]:
    return given.settings_volt or [share * given.rated_volt for share in SHARES]


def _unit_spans(given: ExpectedIn) -> list[tuple[float, Span]]:
    """Each setting with the volts that are left for the unit."""
    settings = _settings(given)
    if given.lamp is None or given.idle_watt is None:
        return [(setting, Span(setting, setting)) for setting in settings]
    behind = ramp(RampIn(given.idle_watt, given.rated_volt, given.lamp, settings, given.kind)).value
    return [(step.setting_volt, step.unit_volt) for step in behind.steps] if behind else []


def _step(given: ExpectedIn, setting: float, unit: Span) -> ExpectedStep:
    is_cold = (
        given.kind is SupplyKind.VALVE_RECTIFIER
        and setting < VALVE_CONDUCTS_FROM * given.rated_volt
    )
    spread = given.spread_percent / 100
    low = 0.0 if is_cold else _rail_at(given, unit.low) * (1 - spread)
    high = _rail_at(given, unit.high) * (1 + spread)
    return ExpectedStep(
        setting, unit, Span(low, high) if given.rail_volt >= 0 else _below(low, high)
    )


def _below(low: float, high: float) -> Span:
    """The same span on a negative rail; 0.0 - x, because -x would write nothing as -0."""
    return Span(0.0 - high, 0.0 - low)


def _rail_at(given: ExpectedIn, unit_volt: float) -> float:
    """The rail without its sign at the unit's own volts."""
    share, full = unit_volt / given.rated_volt, abs(given.rail_volt)
    if given.stage is Stage.RAW or given.raw_volt is None:
        return scaled(full, given.drop_volt, share)
    before = scaled(given.raw_volt, given.drop_volt, share)
    return min(full, max(before - given.dropout_volt, 0.0))


def _regulates_from(given: ExpectedIn) -> float | None:
    if given.stage is Stage.RAW or given.raw_volt is None:
        return None
    needed = abs(given.rail_volt) + given.dropout_volt + given.drop_volt
    return given.rated_volt * needed / (given.raw_volt + given.drop_volt)


def _words(given: ExpectedIn, value: Expected, gated: Outcome) -> tuple[Outcome, str]:
    text = _("The rail at {count} settings.", count=len(value.steps))
    start = value.regulates_from_volt
    if start is None:
        return gated, text
    text += " " + _("It regulates from {volt:.0f} V at the unit.", volt=start)
    if start > given.rated_volt:
        text += " " + _("That is above the rated supply: the regulator never holds.")
        return Outcome.WARN, text
    return gated, text


def _working(given: ExpectedIn, value: Expected, cautions: list[str]) -> Working:
    formula = (
        "(V + Vd) s - Vd"
        if given.stage is Stage.RAW
        else _("(V + Vd) s - Vd - dropout, at most the rail")
    )
    lines = [
        Line(
            f"{step.setting_volt:g} V",
            formula,
            f"{step.rail_volt.low:.3g} – {step.rail_volt.high:.3g} V",
        )
        for step in value.steps
    ]
    return Working(lines, _SOURCES, [*cautions, _caution()])


def _caution() -> str:
    return _("Clip the meter on while all is dead and discharged; read, do not reach in.")


_SOURCES = [
    Source("a rectified rail follows the mains, less the diodes' drop", Status.COMPUTED),
    DIODE_SOURCE,
    DROPOUT_SOURCE,
    Source("10 % spread between specimens", Status.PROPOSED),
    Source("volts behind the lamp: the limits of the ramp", Status.COMPUTED),
]
