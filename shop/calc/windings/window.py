"""The supply voltages at which both the core and the heaters of a unit are content."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import Hertz, MainsVolt, WindingVolt, fit
from shop.calc.registry import calculator
from shop.calc.windings.flux import PlateHertz
from shop.calc.windings.verdicts import (
    FIVE_PERCENT,
    FLUX_LIMITS,
    FLUX_OK,
    FLUX_SOURCE,
    FLUX_WARN,
    HEATER_OK_PERCENT,
    HEATER_SOURCE,
    HEATER_WARN_PERCENT,
)
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Working

EXAMPLE = {"plate_volt": 120.0, "plate_hz": [60.0], "target_hz": 50.0}


class WindowIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What the plate says for the winding in use, and the frequency of the new supply."""

    plate_volt: Annotated[
        WindingVolt, Meta(title="Volts on the plate", description="for the links as they are set")
    ]
    plate_hz: Annotated[
        PlateHertz, Meta(title="Frequencies on the plate", description="the lowest one counts")
    ]
    target_hz: Annotated[Hertz, Meta(title="Frequency of the supply")]
    supply_volt: Annotated[
        MainsVolt | None, Meta(title="Supply to judge", description="volts measured or nominal")
    ] = None


class Band(msgspec.Struct, frozen=True):
    """Volts from `low_volt` to `high_volt`, both ends within."""

    low_volt: float
    high_volt: float

    def holds(self, volt: float) -> bool:
        """Whether this voltage lies within."""
        return self.low_volt - 1e-9 <= volt <= self.high_volt + 1e-9


class WindowOut(msgspec.Struct, frozen=True):
    """Bands of the supply in V. None: no voltage does.

    `good` keeps flux within 1.06 and heaters within 5 %; `tolerable` within 1.10 and 10 %.
    """

    flux_limit_volt: float
    flux_warn_volt: float
    heaters_good: Band
    heaters_tolerable: Band
    good: Band | None
    tolerable: Band | None
    supply_verdict: Outcome | None


@calculator(
    "windings.window",
    "Supply window for flux and heaters",
    question="At which voltages of this frequency are both the core and the heaters content?",
    example=EXAMPLE,
)
def window(given: WindowIn) -> Answer[WindowOut]:
    """Find the volts between too cold heaters and too much flux.

    Units: V, Hz. Formulas: V_max = k V_plate f / f_plate with k = 1.06 (good) or 1.10; heaters
    within 5 % or 10 % of V_plate. The lowest frequency on the plate counts.
    Source: E = 4.44 f N B A; oxide cathodes about 10 %; limits proposed.
    """
    given = fit(given)
    value = _value(given)
    return Answer(
        _outcome(value), _sentence(given, value), value, Working(_lines(given, value), *_known())
    )


def window_of(rated_volt: float, flux_volt: float, share: float) -> Band | None:
    """The band with care for heaters rated at `rated_volt`, None if there is none.

    `flux_volt` are the volts the core is made for at its own frequency, `share` the new frequency
    over that.
    """
    return _below(_around(rated_volt, HEATER_WARN_PERCENT), FLUX_WARN * flux_volt * share)


def _value(given: WindowIn) -> WindowOut:
    share = given.plate_volt * given.target_hz / min(given.plate_hz)
    near, far = (_around(given.plate_volt, off) for off in (HEATER_OK_PERCENT, HEATER_WARN_PERCENT))
    good, tolerable = _below(near, FLUX_OK * share), _below(far, FLUX_WARN * share)
    return WindowOut(
        flux_limit_volt=FLUX_OK * share,
        flux_warn_volt=FLUX_WARN * share,
        heaters_good=near,
        heaters_tolerable=far,
        good=good,
        tolerable=tolerable,
        supply_verdict=None
        if given.supply_volt is None
        else _judged(given.supply_volt, good, tolerable),
    )


def _around(volt: float, percent: float) -> Band:
    return Band(volt * (1 - percent / 100), volt * (1 + percent / 100))


def _below(band: Band, limit: float) -> Band | None:
    high = min(band.high_volt, limit)
    return Band(band.low_volt, high) if high >= band.low_volt else None


def _judged(volt: float, good: Band | None, tolerable: Band | None) -> Outcome:
    if good is not None and good.holds(volt):
        return Outcome.OK
    return Outcome.WARN if tolerable is not None and tolerable.holds(volt) else Outcome.REFUSE


def _outcome(value: WindowOut) -> Outcome:
    if value.supply_verdict is not None:
        return value.supply_verdict
    if value.good is not None:
        return Outcome.OK
    return Outcome.WARN if value.tolerable is not None else Outcome.REFUSE


def _sentence(given: WindowIn, value: WindowOut) -> str:
    if value.tolerable is None:
        return _("No voltage at {hz:g} Hz suits both the core and the heaters.", hz=given.target_hz)
    band = value.good or value.tolerable
    named = {"hz": given.target_hz, "low": band.low_volt, "high": band.high_volt}
    text = _("At {hz:g} Hz from {low:.4g} V to {high:.4g} V.", **named)
    if value.good is None:
        text = _("At {hz:g} Hz only {low:.4g} V to {high:.4g} V, and that with care.", **named)
    return f"{text}{_said_of_supply(given, value)}"


def _said_of_supply(given: WindowIn, value: WindowOut) -> str:
    if given.supply_volt is None or value.supply_verdict is None:
        return ""
    said = {
        Outcome.OK: _("{volt:g} V lies within.", volt=given.supply_volt),
        Outcome.WARN: _("{volt:g} V only with care.", volt=given.supply_volt),
        Outcome.REFUSE: _("{volt:g} V lies outside: do not power.", volt=given.supply_volt),
    }
    return " " + said[value.supply_verdict]


def _lines(given: WindowIn, value: WindowOut) -> list[Line]:
    plate, hz, lowest = given.plate_volt, given.target_hz, min(given.plate_hz)
    flux = f"× {plate:g} V × {hz:g} / {lowest:g}"
    return [
        Line(_("flux, good up to"), f"{FLUX_OK:g} {flux}", f"{value.flux_limit_volt:.4g} V"),
        Line(_("flux, with care up to"), f"{FLUX_WARN:g} {flux}", f"{value.flux_warn_volt:.4g} V"),
        Line(_("heaters, good"), f"{plate:g} V ± 5 %", _band(value.heaters_good)),
        Line(_("heaters, with care"), f"{plate:g} V ± 10 %", _band(value.heaters_tolerable)),
        Line(_("both, good"), _("where they overlap"), _band(value.good)),
        Line(_("both, with care"), _("where they overlap"), _band(value.tolerable)),
    ]


def _band(band: Band | None) -> str:
    return "–" if band is None else f"{band.low_volt:.4g} … {band.high_volt:.4g} V"


def _known() -> tuple[list[Source], list[str], list[str]]:
    cautions = [
        _("Measure the heaters at their pins, the no-load current, and log the case temperature."),
        _("Motors and clocks run with the frequency, whatever the volts."),
    ]
    differ = [_("One page says 20 % lower voltage for 50 Hz; it is 16.7 % (5/6).")]
    return [FLUX_SOURCE, FLUX_LIMITS, HEATER_SOURCE, FIVE_PERCENT], cautions, differ
