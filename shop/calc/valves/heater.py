"""Heater volts: the verdict, and the resistor that takes off what is too much.

Deviation (V - V_rated) / V_rated: up to 5 % ok, up to 10 % warn, above refuse; the limits are
those of the windings. A thoriated tungsten filament is refused above 5 %.
R = (V - V_rated) / I, P = (V - V_rated) I. Units: volt, ampere, ohm, watt, per cent.
"""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.windings.verdicts import (
    FIVE_PERCENT,
    HEATER_OK_PERCENT,
    HEATER_SOURCE,
    judge_heater,
)
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

EXAMPLE = {"rated_volt": 6.3, "measured_volt": 6.85, "rated_ampere": 1.5}


class Cathode(StrEnum):
    """What the heater heats."""

    OXIDE = "oxide"
    THORIATED = "thoriated"


CATHODE_WORDS: Final = {
    "oxide": _noop("oxide coated (receiving valves)"),
    "thoriated": _noop("thoriated tungsten (transmitting valves)"),
}


class HeaterIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A heater in parallel on its winding; series strings are judged by current."""

    rated_volt: Annotated[WindingVolt, Meta(title="Rated", description="from the valve's sheet")]
    measured_volt: Annotated[
        WindingVolt,
        Meta(title="As measured", description="on the pins, warm, all valves in, true r.m.s. or "
             "d.c."),
    ]  # fmt: skip
    rated_ampere: Annotated[
        Annotated[float, Meta(ge=0.001, le=100)] | None,
        Meta(title="Current", description="A of all heaters on it; gives the dropping resistor"),
    ] = None
    cathode: Annotated[
        Cathode,
        Meta(
            title="Cathode",
            description="kind of cathode",
            extra_json_schema={"x-labels": CATHODE_WORDS},
        ),
    ] = Cathode.OXIDE


class Heater(msgspec.Struct, frozen=True):
    """How far off, and the resistor in series; None if it is not too high or A is not given."""

    deviation_percent: float
    power_percent: float
    dropping_ohm: float | None
    dropping_watt: float | None


@calculator(
    "valves.heater",
    "Heater voltage",
    question="Is this heater voltage right for the valve, and what takes off the rest?",
    example=EXAMPLE,
)
def heater(given: HeaterIn) -> Answer[Heater]:
    """The verdict on a heater's volts, both ways from the rated value.

    Units: volt, ampere, ohm, watt, per cent. Formula: (V - V_rated) / V_rated.
    Source: the limits of `windings.verdicts`.
    """
    given = fit(given)
    over = given.measured_volt - given.rated_volt
    off = over / given.rated_volt * 100
    value = Heater(off, ((1 + off / 100) ** 2 - 1) * 100, *_dropping(given, over))
    outcome = judge_heater(off)
    if given.cathode is Cathode.THORIATED and outcome is Outcome.WARN:
        outcome = Outcome.REFUSE
    text = _("{off:+.1f} % of the rated volts: {verdict}", off=off, verdict=_verdict(outcome, off))
    return Answer(outcome, text, value, _working(given, value))


def _dropping(given: HeaterIn, over: float) -> tuple[float | None, float | None]:
    if given.rated_ampere is None or over <= 0:
        return None, None
    return over / given.rated_ampere, over * given.rated_ampere


def _verdict(outcome: Outcome, off: float) -> str:
    if outcome is Outcome.OK:
        return _("right.")
    if outcome is Outcome.WARN:
        return _("it works, at the cost of the valve's life.")
    return _("too high.") if off > 0 else _("too low for the cathode.")


def _working(given: HeaterIn, value: Heater) -> Working:
    lines = [
        Line(
            _("off the rated volts"),
            f"({given.measured_volt:g} - {given.rated_volt:g}) / {given.rated_volt:g}",
            f"{value.deviation_percent:+.1f} %",
        ),
        Line(_("heater power, about"), "(V / V_rated)^2 - 1", f"{value.power_percent:+.1f} %"),
    ]
    if value.dropping_ohm is not None and value.dropping_watt is not None:
        lines.append(
            Line(
                _("resistor in series"),
                f"({given.measured_volt:g} - {given.rated_volt:g}) V / {given.rated_ampere:g} A",
                f"{value.dropping_ohm:.3g} ohm, {value.dropping_watt:.3g} W",
            )
        )
    cautions = [
        _("Heaters may stand on high voltage: measure to chassis first, then between the pins."),
        _("Judge at the line the unit will live on, warm and with all valves in."),
    ]
    return Working(lines, _SOURCES, cautions)


_SOURCES = [
    HEATER_SOURCE,
    FIVE_PERCENT,
    Source(
        f"thoriated tungsten within {HEATER_OK_PERCENT:g} %",
        Status.SECOND_HAND,
        "comment on period advice, classiccmp.org/mailman3",
    ),
    Source("power as the square of the volts; a hot heater takes somewhat less",
           Status.COMPUTED),
]  # fmt: skip
