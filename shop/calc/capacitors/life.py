"""How long an electrolytic capacitor lasts: by its temperature alone, and never above 15 years.

L = L_rated x 2^((T_rated - T) / 10); several temperatures: 1 / L = sum(share_i / L_i). What is
said about voltage and ripple disagrees too much to be multiplied in: it stands beside the answer.
"""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.capacitors.inputs import PartCelsius, RatedCelsius, RatedVolt
from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

HOURS_A_YEAR: Final = 8760.0
MOST_YEARS: Final = 15.0
# Two calculators use these powers of (rated volts / volts); one maker says there is no effect.
VOLT_EXPONENTS: Final = (2.5, 5.0)

RatedHours = Annotated[
    float,
    Meta(
        title="Rated life",
        ge=100,
        le=100_000,
        description="hours at the rated temperature, from the data sheet; 1000 or 2000 if unknown",
        examples=[2000.0],
    ),
]


class LifeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part by its data sheet and how it is used. Volts and core rise only show disagreement."""

    rated_life_hours: RatedHours
    rated_celsius: RatedCelsius
    working_celsius: PartCelsius
    daily_hours: Annotated[
        float,
        Meta(title="Powered a day", ge=0.1, le=24, description="hours a day, 24 if left out"),
    ] = 24.0
    age_years: Annotated[
        Annotated[float, Meta(ge=0, le=100)] | None,
        Meta(title="Age of the part", description="years so far at the same use, if known"),
    ] = None
    rated_volt: Annotated[
        RatedVolt | None, Meta(title="Rated voltage", description="shown beside the estimate only")
    ] = None
    working_volt: Annotated[
        Annotated[float, Meta(ge=0.1, le=2000)] | None,
        Meta(title="Working voltage", description="V d.c. across it; needs the rated voltage"),
    ] = None
    core_rise_kelvin: Annotated[
        Annotated[float, Meta(ge=0, le=60)] | None,
        Meta(title="Core rise", description="K its core is warmer by ripple; shown beside only"),
    ] = None


class OtherLife(msgspec.Struct, frozen=True):
    """What another source would say: hours powered, without the cap."""

    name: str
    hours: float


class Life(msgspec.Struct, frozen=True):
    """Hours powered and years by temperature alone; `expected_years` is capped at 15."""

    hours: float
    years: float
    expected_years: float
    is_capped: bool
    left_years: float | None
    others: list[OtherLife]


class Period(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A share of the powered time and the temperature at the part during it."""

    share_percent: Annotated[
        float, Meta(title="Share", ge=0.001, le=100, description="of the powered time, percent")
    ]
    celsius: PartCelsius


class MixedLifeIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A part by its data sheet, and the temperatures it works at; the shares make 100 %."""

    rated_life_hours: RatedHours
    rated_celsius: RatedCelsius
    periods: Annotated[
        list[Period],
        Meta(title="Temperatures", min_length=1, max_length=24, description="shares make 100 %"),
    ]
    daily_hours: Annotated[
        float,
        Meta(title="Powered a day", ge=0.1, le=24, description="hours a day, 24 if left out"),
    ] = 24.0


def hours_at(rated_hours: float, rated_celsius: float, celsius: float) -> float:
    """L = L_rated x 2^((T_rated - T) / 10), hours."""
    return float(rated_hours * 2.0 ** ((rated_celsius - celsius) / 10.0))


# Encyclopaedia article on aluminium electrolytic capacitors: 128 000 h, "roughly 15 years".
EXAMPLE = {"rated_life_hours": 2000.0, "rated_celsius": 105.0, "working_celsius": 45.0}
MIXED_EXAMPLE = {
    "rated_life_hours": 1000.0,
    "rated_celsius": 85.0,
    "periods": [
        {"share_percent": 75.0, "celsius": 45.0},
        {"share_percent": 25.0, "celsius": 65.0},
    ],
}


@calculator(
    "capacitors.life",
    "Life of an electrolytic capacitor",
    question="How long will this capacitor last at the temperature it works at?",
    example=EXAMPLE,
)
def life(given: LifeIn) -> Answer[Life]:
    """Expected life by temperature alone, capped at 15 years because its seal ages.

    Units: hours, degree Celsius, years of 8760 h. Formula: L = L_rated x 2^((T_rated - T) / 10).
    Valid for: wet aluminium parts at or below their rated temperature; above it warns.
    Raises BadInput if volts or temperatures are out of range or the working voltage stands alone.
    Source: encyclopaedia article on aluminium electrolytic capacitors; the cap is our choice.
    """
    given = fit(given)
    hours = hours_at(given.rated_life_hours, given.rated_celsius, given.working_celsius)
    value = _life(hours, given.daily_hours, given.age_years, _others(given, hours))
    is_hot = given.working_celsius > given.rated_celsius
    lines = [
        Line(_("rated"), "L_rated, T_rated",
             f"{given.rated_life_hours:g} h, {given.rated_celsius:g} °C"),
        Line(_("by temperature"), f"L_rated x 2^((T_rated - {given.working_celsius:g} °C) / 10)",
             f"{hours:.0f} h"),
        *_years_lines(value, given.daily_hours),
    ]  # fmt: skip
    outcome = Outcome.WARN if is_hot or value.left_years == 0 else Outcome.OK
    return Answer(outcome, _said(value, is_hot), value, _working(lines, value))


@calculator(
    "capacitors.mixed_life",
    "Life at several temperatures",
    question="How long will it last if it is warm for part of the time only?",
    example=MIXED_EXAMPLE,
)
def mixed_life(given: MixedLifeIn) -> Answer[Life]:
    """Expected life when the temperature changes: each hour uses up its share.

    Units: hours, degree Celsius, percent. Formula: 1 / L = sum(share_i / L_i), L_i as in
    `capacitors.life`. Raises BadInput if the shares do not make 100 % within 0.1 %.
    Source: application page of a power-supply maker; the cap is our choice.
    """
    given = fit(given)
    total = sum(period.share_percent for period in given.periods)
    if abs(total - 100) > 0.1:
        reason = _("The shares make {total:g} %; they should make 100 %.", total=total)
        raise BadInput("periods", reason, "shares_not_whole")
    each = [hours_at(given.rated_life_hours, given.rated_celsius, p.celsius) for p in given.periods]
    used = sum(p.share_percent / total / one for p, one in zip(given.periods, each, strict=True))
    value = _life(1 / used, given.daily_hours, None, [])
    is_hot = any(period.celsius > given.rated_celsius for period in given.periods)
    lines = [
        *(Line(_("{share:g} % of the time", share=p.share_percent),
               f"L_rated x 2^((T_rated - {p.celsius:g} °C) / 10)", f"{one:.0f} h")
          for p, one in zip(given.periods, each, strict=True)),
        Line(_("together"), "1 / Σ(share / L)", f"{value.hours:.0f} h"),
        *_years_lines(value, given.daily_hours),
    ]  # fmt: skip
    outcome = Outcome.WARN if is_hot else Outcome.OK
    return Answer(outcome, _said(value, is_hot), value, _working(lines, value, MIXED_SOURCE))


def _life(
    hours: float, daily_hours: float, age_years: float | None, others: list[OtherLife]
) -> Life:
    years = hours / HOURS_A_YEAR * 24 / daily_hours
    expected = min(years, MOST_YEARS)
    left = None if age_years is None else max(expected - age_years, 0.0)
    return Life(hours, years, expected, years > MOST_YEARS, left, others)


def _others(given: LifeIn, hours: float) -> list[OtherLife]:
    """The same part by the sources that also count volts or ripple."""
    if given.working_volt is not None and given.rated_volt is None:
        reason = _("Give the rated voltage too: only their ratio says something.")
        raise BadInput("rated_volt", reason, "needs_rated_volt")
    found = []
    if given.working_volt is not None and given.rated_volt is not None:
        ratio = given.rated_volt / given.working_volt
        if ratio < 1:
            reason = _("It works above its rated voltage: no life can be told.")
            raise BadInput("working_volt", reason, "above_rated")
        found += [
            OtherLife(_("voltage with n = {n:g}", n=n), hours * ratio**n) for n in VOLT_EXPONENTS
        ]
    if given.core_rise_kelvin is not None:
        found += [
            OtherLife(_("core rise, half for every {k} K", k=k),
                      hours * 2 ** (-given.core_rise_kelvin / k))
            for k in (5, 10)
        ]  # fmt: skip
    return found


def _years_lines(value: Life, daily_hours: float) -> list[Line]:
    capped = [Line(_("capped: the rubber seal ages"), "≤ 15", "15")] if value.is_capped else []
    others = [Line(one.name, _("shown, not used"), f"{one.hours:.0f} h") for one in value.others]
    return [
        Line(_("in years"), f"L / 8760 x 24 / {daily_hours:g}", f"{value.years:.3g}"),
        *capped,
        *others,
    ]


def _said(value: Life, is_hot: bool) -> str:
    if value.is_capped:
        text = _(
            "Count on 15 years at most: temperature alone would give {years:.0f}, but the seal "
            "does not last that long.",
            years=value.years,
        )
    else:
        text = _("About {years:.1f} years by temperature alone.", years=value.years)
    if value.left_years is not None:
        text += " " + (
            _("Of these {left:.1f} are left.", left=value.left_years)
            if value.left_years
            else _("They are over: measure it, and expect to replace it.")
        )
    if is_hot:
        text += " " + _("It runs above its rated temperature: find out why first.")
    return text


def _working(lines: list[Line], value: Life, *more: Source) -> Working:
    differ = [
        _(
            "Voltage: one calculator multiplies by (rated / working)^n with n from 2.5 to 5, one "
            "maker's sheet finds it negligible. It is the weakest input, so it is left out."
        ),
        _(
            "Ripple: half the life for every 5 K of core rise by one maker's sheet, for every 10 K "
            "if the core temperature itself is put into the rule."
        ),
    ]
    cautions = [_("An estimate for a healthy part: it does not replace measuring.")]
    return Working(lines, [*SOURCES, *more], cautions, differ)


_ENCYCLOPAEDIA = "encyclopaedia article on aluminium electrolytic capacitors"
SOURCES: Final = [
    Source("life doubles for every 10 K less", Status.SECOND_HAND, _ENCYCLOPAEDIA),
    Source("more than 15 years are limited by the rubber seal", Status.SECOND_HAND, _ENCYCLOPAEDIA),
    Source("the result ends at 15 years", Status.PROPOSED),
    Source("(rated / working volts)^n, n = 2.5 to 5", Status.SECOND_HAND,
           "cal6.calculator.city/capacitor-useful-life-calculation"),
    Source("voltage negligible; ripple factor 2^(-dT/5)", Status.SECOND_HAND,
           "a maker's sheet at datasheetandpdf.com"),
    Source("ripple factor 2^(-dT/10) from the core temperature", Status.COMPUTED),
]  # fmt: skip
MIXED_SOURCE: Final = Source(
    "1 / L = sum(share / L)", Status.SECOND_HAND, "application page of a power-supply maker"
)
