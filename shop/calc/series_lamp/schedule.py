"""The settings of the variable transformer, how long at each, when to go on and when to stop."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.reform_procedures import DRIVES_A, DRIVES_B, DRIVES_C
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.gate import GateIn, Kind, SupplyKind, gate
from shop.calc.series_lamp.lamp import cautions
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

PERCENTS: Final = (25, 50, 75, 90, 100)
FIRST_OF_LONG_IDLE: Final = 10
DWELL_SECONDS: Final = 30 * 60
LAST_DWELL_SECONDS: Final = 60 * 60
LONG_IDLE_YEARS: Final = 5.0
REMOVE_AFTER_YEARS: Final = 10.0
MOST_RISE_KELVIN: Final = 10


class ScheduleIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The unit: what it is set for, how long it has been idle, what is inside."""

    unit_volt: Annotated[
        float,
        Meta(ge=1, le=500, title="Unit set for", description="as found on the unit, 1 to 500"),
    ]
    idle_years: Annotated[
        float,
        Meta(ge=0, le=100, title="Time idle", description="years since it last ran, as told"),
    ]
    kind: Kind
    has_high_volt_parts: Annotated[
        bool,
        Meta(
            title="High-voltage electrolytics",
            description="any electrolytic capacitor rated above 70 V inside",
        ),
    ] = False


class ScheduleStep(msgspec.Struct, frozen=True):
    """One setting and the time to stay there."""

    set_percent: int
    set_volt: float
    dwell_seconds: int


class Schedule(msgspec.Struct, frozen=True):
    """The steps in order, the time they take together, and the rules."""

    steps: list[ScheduleStep]
    total_seconds: int
    go_on_rules: list[str]
    stop_rules: list[str]
    is_reforming_outside_advised: bool


@calculator(
    "series_lamp.schedule",
    "Settings and times for bringing a unit up",
    question="In which steps do I bring this unit up, how long at each, and when do I stop?",
    example={"unit_volt": 230, "idle_years": 8, "kind": "linear"},
)
def schedule(given: ScheduleIn) -> Answer[Schedule]:
    """25, 50, 75, 90, 100 %, 30 minutes each and 60 at full; longer for a unit long idle.

    Idle for more than 5 years: a step at 10 % and double times. Refuses switch-mode supplies,
    gives no answer for unknown ones. Units: V, years, seconds.
    Source: our proposal beside nine published procedures.
    """
    given = fit(given)
    gated = gate(GateIn(given.kind))
    if gated.outcome not in (Outcome.OK, Outcome.WARN):
        return Answer(gated.outcome, gated.text, None, gated.working)
    steps = _steps(given)
    total = sum(step.dwell_seconds for step in steps)
    # Nothing that a valve rectifier feeds is low: its reservoirs are meant, ticked or not.
    has_high = given.has_high_volt_parts or given.kind is SupplyKind.VALVE_RECTIFIER
    is_outside = has_high and given.idle_years > REMOVE_AFTER_YEARS
    value = Schedule(steps, total, go_on_rules(), stop_rules(), is_outside)
    text = _("{count} steps, {hours:.1f} hours in all.", count=len(steps), hours=total / 3600)
    return Answer(
        Outcome.WARN if is_outside else gated.outcome,
        f"{text} {_outside() if is_outside else gated.text}",
        value,
        _working(value, gated.text),
    )


def _steps(given: ScheduleIn) -> list[ScheduleStep]:
    is_long_idle = given.idle_years > LONG_IDLE_YEARS
    percents = (FIRST_OF_LONG_IDLE, *PERCENTS) if is_long_idle else PERCENTS
    times = 2 if is_long_idle else 1
    return [
        ScheduleStep(
            percent,
            given.unit_volt * percent / 100,
            times * (LAST_DWELL_SECONDS if percent == 100 else DWELL_SECONDS),
        )
        for percent in percents
    ]


def go_on_rules() -> list[str]:
    """What must be true before the next step."""
    return [
        _("The current lies within the limits of this step and did not rise while you waited."),
        _("The rails are stable."),
        _(
            "No electrolytic capacitor is more than {kelvin} K above the room.",
            kelvin=MOST_RISE_KELVIN,
        ),
    ]


def stop_rules() -> list[str]:
    """What ends the ramp at once."""
    return [
        _("The current is above its limit, or rises with time."),
        _("A hiss, a smell, smoke, or a capacitor that bulges."),
        _("The lamp pulses."),
    ]


def _outside() -> str:
    return _(
        "High-voltage electrolytics idle for more than 10 years: take them out and reform them "
        "one by one through a resistor, or replace them."
    )


def _working(value: Schedule, about_kind: str) -> Working:
    lines = [
        Line(
            f"{step.set_percent} %",
            _("share of the unit's volts"),
            _("{volt:.1f} V, {minutes} min", volt=step.set_volt, minutes=step.dwell_seconds // 60),
        )
        for step in value.steps
    ]
    sources = [
        Source("steps, times and rules, put together from the procedures shown", Status.PROPOSED),
        Source("5 and 10 years as the edges", Status.PROPOSED),
        DRIVES_A,
        DRIVES_B,
        DRIVES_C,
    ]
    notes = [
        about_kind,
        _("A lamp brighter than at the step before is normal; the limits say how much."),
        _("Class A and valve units run warm and keep the lamp glowing: go by the limits."),
        _(
            "A ramp does not limit the current of each capacitor, as a resistor for each does: "
            "one leaking part hides behind the others."
        ),
        *value.stop_rules,
    ]
    return Working(lines, sources, [*notes, *cautions()], _published())


def _published() -> list[str]:
    """What published procedures for whole idle equipment say."""
    return [
        _(
            "Drives, one maker's bulletin: idle below 2 years nothing; 2 to 3 years 30 min at "
            "rated volts without load; longer 50, 75, 100 %, 30 min each."
        ),
        _(
            "Drives, another page: below 12 months nothing, above 24 months always; 30 to 50 % "
            "1 to 2 h, 70 % 1 to 2 h, 100 % 2 to 4 h."
        ),
        _("Drives, a third page: 100 V steps of 5 to 10 min, then 15 min."),
    ]
