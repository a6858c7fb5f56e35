"""Which new part may take the place of an old one, and whether the part in hand may.

Volts and temperature at least as before. Capacitance: as before for timing, once to 1.2 times for
a reservoir, and never above 1.5 times behind a valve rectifier, whose peak current it would raise.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

import msgspec
from msgspec import Meta

from shop.calc.capacitors.inputs import Farad, RatedCelsius, RatedVolt
from shop.calc.fields import fit
from shop.calc.preferred_values import SERIES_SOURCE, around, between, nearest
from shop.calc.registry import calculator
from shop.calc.shown import farads
from shop.calc.words import _
from shop.calc.words import gettext_noop as _noop
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

RESERVOIR_TIMES: Final = 1.2
VALVE_TIMES: Final = 1.5
TIMING_OFF: Final = 0.05
VOLTS: Final = (
    6.3, 10.0, 16.0, 25.0, 35.0, 40.0, 50.0, 63.0, 80.0, 100.0, 160.0, 200.0, 250.0, 350.0, 400.0,
    450.0, 500.0, 550.0, 600.0,
)  # fmt: skip

Place = Literal["reservoir", "timing", "coupling"]
Fault = Literal["volt", "celsius", "farad_low", "farad_high", "valve_rectifier"]


class ReplacementIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The old part and where it works, and perhaps the part in hand."""

    farad: Farad
    rated_volt: RatedVolt
    rated_celsius: RatedCelsius = 85.0
    place: Annotated[
        Place,
        Meta(
            title="Where it works",
            description="a filter, an oscillator or a time constant counts as timing",
            extra_json_schema={
                "x-labels": {
                    "reservoir": "reservoir or smoothing",
                    "timing": "timing, filter, tone",
                    "coupling": "coupling or bypass",
                }
            },
        ),
    ] = "reservoir"
    has_valve_rectifier: Annotated[
        bool, Meta(title="After a valve rectifier", description="the first capacitor behind it")
    ] = False
    working_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=2000)] | None,
        Meta(title="Highest voltage on it", description="V d.c. at the highest mains, before the "
             "valves draw current; if measured"),
    ] = None  # fmt: skip
    new_farad: Annotated[
        Farad | None, Meta(title="Capacitance in hand", description="farad, of the part offered")
    ] = None
    new_volt: Annotated[
        RatedVolt | None, Meta(title="Voltage in hand", description="V d.c., of the part offered")
    ] = None
    new_celsius: Annotated[
        RatedCelsius | None, Meta(title="Temperature in hand", description="°C, of the one offered")
    ] = None


class Replacement(msgspec.Struct, frozen=True):
    """Preferred values that fit, limits, and what speaks against the part in hand."""

    fitting_farad: list[float]
    nearest_farad: float
    lowest_farad: float
    highest_farad: float
    least_volt: float
    usual_volt: float | None
    least_celsius: float
    faults: list[Fault]


# An old 50 uF 350 V reservoir behind a valve rectifier: 56 uF fits, 47 uF is too small.
EXAMPLE = {
    "farad": 50e-6,
    "rated_volt": 350.0,
    "rated_celsius": 85.0,
    "place": "reservoir",
    "has_valve_rectifier": True,
}


@calculator(
    "capacitors.replacement",
    "What may replace a capacitor",
    question="Which capacitor may I fit in place of the old one?",
    example=EXAMPLE,
)
def replacement(given: ReplacementIn) -> Answer[Replacement]:
    """Preferred values that fit, the ratings to keep, and a verdict on the part in hand.

    Units: farad, volt, degree Celsius. Reservoir 1.0 to 1.2 times, timing within 5 %, coupling
    1.0 to 2.0 times; behind a valve rectifier never above 1.5 times. Refuses a part in hand that
    is under-rated or too large behind a valve rectifier.
    Source: the rule with its valve limit is our choice; values IEC 60063.
    """
    given = fit(given)
    value = _value(given)
    working = Working(_lines(given, value), SOURCES, _cautions(given), _differ(given))
    outcome, text = _said(given, value)
    return Answer(outcome, text, value, working)


def span(given: ReplacementIn) -> tuple[float, float]:
    """Lowest and highest capacitance that fits, F."""
    low, high = {
        "reservoir": (1.0, RESERVOIR_TIMES),
        "timing": (1 - TIMING_OFF, 1 + TIMING_OFF),
        "coupling": (1.0, 2.0),
    }[given.place]
    if given.has_valve_rectifier:
        high = min(high, VALVE_TIMES)
    return given.farad * low, given.farad * high


def _value(given: ReplacementIn) -> Replacement:
    low, high = span(given)
    least_volt = max(given.rated_volt, given.working_volt or 0.0)
    return Replacement(
        fitting_farad=between(low, high, "E24" if given.place == "timing" else "E12"),
        nearest_farad=nearest(given.farad, "E12"),
        lowest_farad=low,
        highest_farad=high,
        least_volt=least_volt,
        usual_volt=next((volt for volt in VOLTS if volt >= least_volt * (1 - 1e-9)), None),
        least_celsius=given.rated_celsius,
        faults=_faults(given, low, high, least_volt),
    )


def _faults(given: ReplacementIn, low: float, high: float, least_volt: float) -> list[Fault]:
    faults: list[Fault] = []
    if given.new_volt is not None and given.new_volt < least_volt * (1 - 1e-9):
        faults.append("volt")
    if given.new_celsius is not None and given.new_celsius < given.rated_celsius:
        faults.append("celsius")
    if given.new_farad is None:
        return faults
    if given.new_farad < low * (1 - 1e-9):
        faults.append("farad_low")
    is_valve_limit = given.new_farad > VALVE_TIMES * given.farad * (1 + 1e-9)
    if given.has_valve_rectifier and is_valve_limit:
        faults.append("valve_rectifier")
    elif given.new_farad > high * (1 + 1e-9):
        faults.append("farad_high")
    return faults


_FAULTS: Final[dict[str, str]] = {
    "volt": _noop("its voltage rating is too low"),
    "celsius": _noop("its temperature rating is too low"),
    "farad_low": _noop("it is too small"),
    "farad_high": _noop("it is larger than needed"),
    "valve_rectifier": _noop("it is above 1.5 times behind a valve rectifier"),
}
_FORBIDDEN: Final = {"volt", "celsius", "valve_rectifier"}


def _said(given: ReplacementIn, value: Replacement) -> tuple[Outcome, str]:
    if value.faults:
        text = _("Not the part in hand: {why}.", why="; ".join(_(_FAULTS[one])
                 for one in value.faults))  # fmt: skip
        return (Outcome.REFUSE if _FORBIDDEN & {*value.faults} else Outcome.WARN), text
    if any(one is not None for one in (given.new_farad, given.new_volt, given.new_celsius)):
        return Outcome.OK, _("By what was given the part in hand may be fitted.")
    ratings = _("at least {volt:g} V and {celsius:g} °C", volt=value.least_volt,
                celsius=value.least_celsius)  # fmt: skip
    if not value.fitting_farad:
        below, above = around(given.farad, "E12")
        text = _("No E12 value fits: {below} is under, {above} is over; {ratings}.",
                 below=farads(below), above=farads(above), ratings=ratings)  # fmt: skip
        return Outcome.WARN, text
    shown = ", ".join(farads(one) for one in value.fitting_farad)
    return Outcome.OK, _("{shown}, {ratings}.", shown=shown, ratings=ratings)


def _lines(given: ReplacementIn, value: Replacement) -> list[Line]:
    usual = _("none listed") if value.usual_volt is None else f"{value.usual_volt:g} V"
    lines = [
        Line(_("old part"), "C, U, T",
             f"{farads(given.farad)}, {given.rated_volt:g} V, {given.rated_celsius:g} °C"),
        Line(_("capacitance that fits"), given.place,
             f"{farads(value.lowest_farad)} – {farads(value.highest_farad)}"),
        Line(_("preferred values in it"), "IEC 60063",
             ", ".join(map(farads, value.fitting_farad)) or _("none")),
        Line(_("nearest by ratio"), "E12", farads(value.nearest_farad)),
        Line(_("voltage at least"), "max(U, U_highest)", f"{value.least_volt:g} V"),
        Line(_("next usual rating"), "≥", usual),
        Line(_("temperature at least"), "≥", f"{value.least_celsius:g} °C"),
    ]  # fmt: skip
    if given.has_valve_rectifier:
        most = farads(VALVE_TIMES * given.farad)
        lines.append(Line(_("never above, valve rectifier"), "1.5 C", most))
    return lines


def _cautions(given: ReplacementIn) -> list[str]:
    said = [
        _("Discharge the old part before touching it; mind polarity, lead pitch and height."),
        _("Across the mains or from line to chassis only a part of the right safety class."),
    ]
    if given.has_valve_rectifier:
        said.append(_("A larger reservoir raises the peak current through a valve rectifier: the "
                      "valve's own data sheet may allow less than 1.5 times."))  # fmt: skip
    if given.working_volt is not None and given.working_volt > given.rated_volt:
        said.append(_("The old part worked above its rating: find out why."))
    return said


def _differ(given: ReplacementIn) -> list[str]:
    differ = [
        _("A capacitor maker's page lets a filter capacitor be 20 % smaller to 100 % larger, close "
          "to the old value where one can; here it is 1.0 to 1.2 times."),
    ]  # fmt: skip
    if given.has_valve_rectifier:
        differ.append(
            _("Behind a valve rectifier 1.5 times is the outer bound; 1.2 times is proposed.")
        )
    return differ


SOURCES: Final = [
    SERIES_SOURCE,
    Source("1.0 to 1.2 times for a reservoir, as before for timing, 1.0 to 2.0 for coupling",
           Status.PROPOSED),
    Source("not above 1.5 times behind a valve rectifier", Status.PROPOSED),
    Source("-20 to +100 % in filters; oversize strains a rectifier valve", Status.SECOND_HAND,
           "a capacitor maker's page on choosing replacements"),
    Source("usual rated voltages", Status.COMMON_PRACTICE),
]  # fmt: skip
