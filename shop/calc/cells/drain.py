"""The drain of a memory: measured over a resistor, or looked up by the kind of memory."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

DOUBLES_EVERY_KELVIN: Final = 10.0
# Above this drop the memory had noticeably less than its cell gives; a proposal.
MOST_DROP_VOLT: Final = 0.1
DOUBLING: Final = Source("leakage doubles about every 10 K", Status.FROM_MEMORY)


class DrainIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A reading across a resistor in series with the cell, unit off."""

    drop_volt: Annotated[
        float, Meta(ge=1e-7, le=10, title="Reading", description="volts across the resistor")
    ]
    shunt_ohm: Annotated[
        float, Meta(ge=1, le=1e7, title="Resistor", description="in series with the cell")
    ] = 10_000.0
    meter_ohm: Annotated[
        float, Meta(ge=1e4, le=1e12, title="Input of the meter", description="10 megohm is usual")
    ] = 10e6
    measured_celsius: Annotated[
        float, Meta(ge=-20, le=85, title="Measured at", description="temperature of the board")
    ] = 25.0
    hottest_celsius: Annotated[
        float,
        Meta(ge=-20, le=85, title="Hottest", description="while it is off: attic, van, rack"),
    ] = 35.0


class MeasuredDrain(msgspec.Struct, frozen=True):
    """uA as measured and at the hottest: the two ends that `cells.retention` asks for.

    `meter_error_percent` is what the meter's own input would have hidden.
    """

    low_ua: float
    high_ua: float
    meter_error_percent: float


@calculator(
    "cells.drain",
    "Drain of a memory, measured",
    question="What does the memory draw with the unit off, going by this reading?",
    example={"drop_volt": 0.025, "shunt_ohm": 10000},
)
def drain(given: DrainIn) -> Answer[MeasuredDrain]:
    """I = V (1/R + 1/Rmeter); with 10 kohm, µA = mV / 10. Units: V, ohm, µA, °C.

    Warns if the resistor took more than 0.1 V of the memory's volts.
    Source: Ohm's law.
    """
    given = fit(given)
    low = 1e6 * given.drop_volt * (1 / given.shunt_ohm + 1 / given.meter_ohm)
    high = low * at_celsius(given.hottest_celsius, given.measured_celsius)
    error = 100.0 * given.shunt_ohm / given.meter_ohm
    value = MeasuredDrain(min(low, high), max(low, high), error)
    text = _("{low:.3g} µA, about {high:.3g} µA at the hottest.", low=low, high=high)
    if given.hottest_celsius < given.measured_celsius:
        text = _("{low:.3g} µA as measured, already warmer than the hottest given.", low=low)
    if given.drop_volt > MOST_DROP_VOLT:
        more = _("The resistor took much of the memory's volts: take a smaller one.")
        return Answer(Outcome.WARN, f"{text} {more}", value, _working(given, low, high, error))
    return Answer(Outcome.OK, text, value, _working(given, low, high, error))


def at_celsius(celsius: float, known_celsius: float = 25.0) -> float:
    """How many times as much leaks at another temperature."""
    return float(2.0 ** ((celsius - known_celsius) / DOUBLES_EVERY_KELVIN))


def _working(given: DrainIn, low: float, high: float, error: float) -> Working:
    lines = [
        Line(_("drain"), "V (1/R + 1/Rmeter)", f"{low:.4g} µA"),
        Line(_("without the meter's input"), "V / R", f"{error:.2g} % " + _("too little")),
        Line(_("at the hottest"), "x 2^(dT / 10)", f"{high:.4g} µA"),
    ]
    sources = [Source("Ohm's law, meter in parallel", Status.COMPUTED), DOUBLING]
    cautions = [
        _("Bridge the resistor while you fit it, or the memory is lost; back it up first."),
        _("Wait until the reading settles: reservoirs on the memory's rail charge through it."),
    ]
    return Working(lines, sources, cautions)
