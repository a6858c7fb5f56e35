"""What the lamp and the meters say about the unit, and what they cannot say."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.answers import Span, span
from shop.calc.series_lamp.lamp import (
    EXPONENT_SPAN,
    GLOW_WORDS,
    SOURCES,
    Glow,
    Lamp,
    cautions,
    current_at,
    disagreements,
    glow_at,
    volt_at,
)
from shop.calc.words import _, gettext_noop
from shop.calc.working import Answer, BadInput, Line, Outcome, Working


class ReadBackIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The lamp, the measured output of the variable transformer, and one measurement or both."""

    lamp: Annotated[Lamp, Meta(title="Lamp")]
    supply_volt: Annotated[
        float, Meta(ge=1, le=500, title="Supply", description="measured output, 1 to 500")
    ]
    unit_volt: Annotated[
        float | None,
        Meta(title="Volts at the unit", description="measured; not above the supply"),
    ] = None
    current_a: Annotated[
        float | None, Meta(title="Current", description="measured in the line, 0 to 1000")
    ] = None


class ReadBack(msgspec.Struct, frozen=True):
    """The apparent load with its span over the lamp law, the glow expected, and its meaning.

    With both volts and current measured the power factor and the real power follow too; None
    where the lamp law does not explain the three readings together.
    """

    unit_volt: float
    current_a: Span
    apparent_va: Span
    apparent_ohm: Span | None
    glow: Glow
    means: str
    cannot_tell: str
    power_factor: Span | None = None
    unit_watt: Span | None = None


# Readings are not exact: a little above 1 is a resistor.
MOST_FACTOR = 1.05
# Below these a meter at the bench shows nothing.
NO_VOLT, NO_AMPERE = 1e-3, 1e-6
# A lamp that ought to glow passes more than this share of its rated current, by law and by heat.
OPEN_SHARE = 0.01
WORRYING = (Glow.HALF, Glow.FULL)

MEANS = {
    Glow.DARK: gettext_noop("The unit draws little: normal at idle, or an open fuse or switch."),
    Glow.DIM: gettext_noop("The unit is loaded: work out its power from the current."),
    Glow.HALF: gettext_noop("A heavy load, a partial fault, or a lamp too small for this unit."),
    Glow.FULL: gettext_noop("Close to a short circuit: switch off and look for it."),
}
CANNOT_TELL = {
    Glow.DARK: gettext_noop(
        "A dark lamp does not tell a good unit from a dead one: only the current does."
    ),
    Glow.DIM: gettext_noop(
        "The glow does not tell a normal warm-up from a leaking reservoir capacitor."
    ),
    Glow.HALF: gettext_noop(
        "Class A and valve units glow like this when healthy; the limits decide, not eyes."
    ),
    Glow.FULL: gettext_noop(
        "It does not tell a short in the unit from one in the cord or in a suppressor."
    ),
}


@calculator(
    "series_lamp.read_back",
    "Work out the load from what was measured behind the lamp",
    question="What does the unit draw, going by my readings, and what does the lamp not tell?",
    example={"lamp": {"watt": 100, "volt": 230}, "supply_volt": 230, "unit_volt": 185.767},
)
def read_back(given: ReadBackIn) -> Answer[ReadBack]:
    """Apparent load from unit volts or current, in phase: Vs = VL + VU, VL = V0 (I/I0)^(1/a).

    Units: V, A, VA, ohm. Raises BadInput if neither is given or one cannot be.
    Source: the lamp law, see `series_lamp.lamp`.
    """
    given = fit(given)
    _check(given)
    lamps = [given.lamp.with_exponent(exponent) for exponent in EXPONENT_SPAN]
    if given.unit_volt is not None:
        volts = [given.unit_volt]
    else:
        volts = [
            max(given.supply_volt - volt_at(lamp, given.current_a or 0.0), 0.0) for lamp in lamps
        ]
    middle = sorted(volts)[len(volts) // 2]
    if given.current_a is not None:
        currents = [given.current_a]
    else:
        currents = [current_at(lamp, given.supply_volt - middle) for lamp in lamps]
    value = _value(given, middle, volts, currents)
    outcome, text = _agreement(given, lamps, value)
    return Answer(outcome, text, value, _working(value))


def _value(given: ReadBackIn, middle: float, volts: list[float], currents: list[float]) -> ReadBack:
    glow = glow_at(given.lamp, max(given.supply_volt - middle, 0.0))
    pairs = [(volt, current) for volt in volts for current in currents]
    ohms = span(volt / current for volt, current in pairs) if min(currents) > 0 else None
    current = span(currents) or Span(0.0, 0.0)
    power = span(volt * ampere for volt, ampere in pairs) or Span(0.0, 0.0)
    factor = _power_factor(given)
    real = factor and Span(power.low * factor.low, power.high * factor.high)
    means, cannot_tell = _(MEANS[glow]), _(CANNOT_TELL[glow])
    return ReadBack(middle, current, power, ohms, glow, means, cannot_tell, factor, real)


def _power_factor(given: ReadBackIn) -> Span | None:
    """cos φ = (Vs^2 - VL^2 - VU^2) / (2 VL VU), the lamp as the resistor of three voltmeters."""
    unit_volt, ampere = given.unit_volt or 0.0, given.current_a or 0.0
    if unit_volt < NO_VOLT or ampere < NO_AMPERE:
        return None
    found = []
    for exponent in EXPONENT_SPAN:
        lamp_volt = volt_at(given.lamp.with_exponent(exponent), ampere)
        across = given.supply_volt**2 - lamp_volt**2 - unit_volt**2
        found.append(across / (2 * lamp_volt * unit_volt))
    low, high = min(found), max(found)
    if high < 0 or low > MOST_FACTOR:
        return None
    return Span(min(max(low, 0.0), 1.0), min(high, 1.0))


def _check(given: ReadBackIn) -> None:
    if given.unit_volt is None and given.current_a is None:
        reason = _("Measure the volts at the unit or the current, better both.")
        raise BadInput("unit_volt", reason, "nothing_measured")
    if given.unit_volt is not None and not 0 <= given.unit_volt <= given.supply_volt:
        reason = _("The unit cannot have more than the supply: measure both again.")
        raise BadInput("unit_volt", reason, "out_of_range")
    if given.current_a is not None and not 0 <= given.current_a <= 1000:
        reason = _("The current must be from 0 to 1000 A.")
        raise BadInput("current_a", reason, "out_of_range")


def _agreement(given: ReadBackIn, lamps: list[Lamp], value: ReadBack) -> tuple[Outcome, str]:
    """With both measured: does the lamp explain the current?"""
    if _is_open(given, value):
        return Outcome.WARN, _(
            "No current, yet the lamp has all the volts: it is burnt out or the circuit is open "
            "there. The unit may be live to the touch all the same."
        )
    text = _("Lamp {glow}: {means}", glow=_(GLOW_WORDS[value.glow]), means=value.means)
    outcome = Outcome.WARN if value.glow in WORRYING else Outcome.OK
    if given.unit_volt is None or given.current_a is None:
        return outcome, text
    drop = given.supply_volt - given.unit_volt
    by_lamp = [current_at(lamp, drop) for lamp in lamps]
    if min(by_lamp) * 0.8 <= given.current_a <= max(by_lamp) * 1.25:
        return outcome, text
    doubt = _(
        "But this lamp would pass {low:.0f} to {high:.0f} mA at that drop: another lamp fitted, "
        "an LED, or a load with much reactance.",
        low=min(by_lamp) * 1000,
        high=max(by_lamp) * 1000,
    )
    return Outcome.WARN, f"{text} {doubt}"


def _is_open(given: ReadBackIn, value: ReadBack) -> bool:
    """Volts across a lamp that passes nothing."""
    is_idle = given.current_a is not None and (
        given.current_a < OPEN_SHARE * given.lamp.rated_current
    )
    return is_idle and given.unit_volt is not None and value.glow is not Glow.DARK


def _working(value: ReadBack) -> Working:
    lines = [
        Line(
            _("current"),
            "I0 (VL/V0)^a",
            f"{value.current_a.low:.4f} to {value.current_a.high:.4f} A",
        ),
        Line(_("load"), "VU x I", f"{value.apparent_va.low:.1f} – {value.apparent_va.high:.1f} VA"),
    ]
    if value.power_factor and value.unit_watt:
        factor, real = value.power_factor, value.unit_watt
        lines += [
            Line(
                _("power factor"),
                "(Vs^2 - VL^2 - VU^2) / (2 VL VU)",
                f"{factor.low:.2f} – {factor.high:.2f}",
            ),
            Line(_("real power"), "VU I cos φ", f"{real.low:.1f} – {real.high:.1f} W"),
        ]
    return Working(lines, SOURCES, [*cautions(), value.cannot_tell], disagreements())
