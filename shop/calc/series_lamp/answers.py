"""The operating point as an answer: all points, the span of the lamp law, words for a tech."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.beyond import SOURCE as BEYOND_SOURCE
from shop.calc.series_lamp.beyond import above_lamp
from shop.calc.series_lamp.lamp import (
    EXPONENT_ENDS,
    GLOW_WORDS,
    SOURCES,
    Glow,
    Lamp,
    cautions,
    disagreements,
)
from shop.calc.series_lamp.loads import Load
from shop.calc.series_lamp.points import Point, operating_points
from shop.calc.series_lamp.thermal import CONDUCTION_SPAN, kelvin_at
from shop.calc.series_lamp.thermal import SOURCES as HEAT_SOURCES
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Working

# Share of the lamp's voltage below which the lamp law is not to be trusted alone.
LOW_SHARE = 0.2

# Two ends of the lamp law, two of the filament by its heat.
MODELS = len(EXPONENT_ENDS) + len(CONDUCTION_SPAN)

SupplyVolt = Annotated[
    float,
    Meta(
        ge=0.1,
        le=500,
        title="Supply",
        description="measured output of the variable transformer, or the line, 0.1 to 500",
    ),
]


class OperatingPointIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A lamp, a load and a supply."""

    supply_volt: SupplyVolt
    lamp: Annotated[Lamp, Meta(title="Lamp")]
    load: Annotated[Load, Meta(title="Load", description="what the unit is taken for")]


class Span(msgspec.Struct, frozen=True):
    """Lowest and highest value."""

    low: float
    high: float

    @classmethod
    def of(cls, values: Iterable[float]) -> Span:
        """Of at least one value."""
        listed = list(values)
        return cls(min(listed), max(listed))


class ByHeat(msgspec.Struct, frozen=True):
    """The stable point with the filament taken by its heat: spans over the share of conduction."""

    lamp_volt: Span
    unit_volt: Span
    current_a: Span
    filament_kelvin: Span


class OperatingPoint(msgspec.Struct, frozen=True):
    """All points by the lamp's own exponent; the span of the stable one over 0.45 to 0.60.

    `by_heat` is the same by the thermal model; None where that one finds no stable point.
    `models_with_point` tells how many of the four (two ends of the law, two of the heat) have one.
    """

    points: list[Point]
    unit_volt: Span | None
    current_a: Span | None
    by_heat: ByHeat | None = None
    models_with_point: int = MODELS


# Case of the formulas worked with a = 0.55: a 50 W resistor behind a 100 W lamp on 230 V.
EXAMPLE = {
    "supply_volt": 230,
    "lamp": {"watt": 100, "volt": 230},
    "load": {"kind": "resistance", "ohm": 1058},
}


@calculator(
    "series_lamp.operating_point",
    "Where a series lamp and a unit share the supply",
    question="How much of the supply does the unit get behind this lamp, and what will I see?",
    example=EXAMPLE,
)
def operating_point(given: OperatingPointIn) -> Answer[OperatingPoint]:
    """Solve lamp and load. No operating point is an answer: the unit would hiccup or starve.

    Warns of a lamp at full brightness, which is a near-short, and of one beyond its volts.

    Units: V, A, W, ohm. Source: the lamp law, see `series_lamp.lamp`.
    """
    given = fit(given)
    points = operating_points(given.lamp, given.load, given.supply_volt)
    by_law = _by_law(given)
    by_heat = _by_heat(given)
    value = OperatingPoint(
        points,
        span(point.unit_volt for point in by_law),
        span(point.current_a for point in by_law),
        _band(by_heat),
        len(by_law) + len(by_heat),
    )
    outcome, text = _in_words(points)
    if outcome is Outcome.OK and value.models_with_point < MODELS:
        outcome = Outcome.WARN
    dangers = above_lamp(given.supply_volt, given.lamp.volt)
    is_full = bool(points) and points[0].glow is Glow.FULL
    if outcome is Outcome.OK and (dangers or is_full):
        outcome = Outcome.WARN
    if dangers:
        text = ". ".join([text.rstrip("."), *dangers])
    return Answer(outcome, text, value, _working(given, value))


def _by_law(given: OperatingPointIn) -> list[Point]:
    """The stable point at both ends of the exponent, where there is one."""
    lamps = [given.lamp.with_exponent(exponent) for exponent in EXPONENT_ENDS]
    found = [operating_points(lamp, given.load, given.supply_volt)[:1] for lamp in lamps]
    return [point for points in found for point in points if point.is_stable]


def _by_heat(given: OperatingPointIn) -> list[tuple[Point, float]]:
    """The stable point and the filament's kelvin at both ends of the share of conduction."""
    found = []
    for share in CONDUCTION_SPAN:
        points = operating_points(given.lamp.by_heat(share), given.load, given.supply_volt)
        for point in points[:1]:
            found.append((point, kelvin_at(share, point.lamp_volt / given.lamp.volt)))
    return found


def _band(found: list[tuple[Point, float]]) -> ByHeat | None:
    if not found:
        return None
    return ByHeat(
        Span.of(point.lamp_volt for point, _kelvin in found),
        Span.of(point.unit_volt for point, _kelvin in found),
        Span.of(point.current_a for point, _kelvin in found),
        Span.of(kelvin for _point, kelvin in found),
    )


def span(values: Iterable[float]) -> Span | None:
    """Lowest and highest of some values; None of none."""
    listed = list(values)
    return Span.of(listed) if listed else None


def _in_words(points: list[Point]) -> tuple[Outcome, str]:
    if not points:
        return Outcome.NO_ANSWER, _(
            "No operating point: this lamp cannot pass what the load takes. A real unit would "
            "pulse or starve. Take a larger lamp, or none for this kind of supply."
        )
    real = points[0]
    text = _(
        "{volt:.1f} V at the unit, {milliampere:.0f} mA, lamp {glow}",
        volt=real.unit_volt,
        milliampere=real.current_a * 1000,
        glow=_(GLOW_WORDS[real.glow]),
    )
    if len(points) > 1:
        starved = _("a starved state at {volt:.1f} V exists too", volt=points[1].unit_volt)
        return Outcome.WARN, f"{text}; {starved}"
    return Outcome.OK, text


def _working(given: OperatingPointIn, value: OperatingPoint) -> Working:
    lines = [_lamp_line(given.lamp)]
    for point in value.points:
        state = _("stable point") if point.is_stable else _("starved point")
        drop = _("{lamp:.2f} V lamp, {unit:.2f} V unit", lamp=point.lamp_volt, unit=point.unit_volt)
        lines.append(Line(state, "Vs = VL(I) + VU", drop))
        power = _("{lamp:.2f} W lamp, {unit:.2f} W unit, light {light:.2%}",
                  lamp=point.lamp_watt, unit=point.unit_watt, light=point.light_share)  # fmt: skip
        lines.append(Line(_("power"), "VL I, VU I cos φ; (VL/V0)^3.4", power))
    lines += _span_lines(value)
    sources = [*SOURCES, *HEAT_SOURCES, BEYOND_SOURCE]
    return Working(lines, sources, cautions(), _doubts(given, value))


def _lamp_line(lamp: Lamp) -> Line:
    if lamp.conduction_share is None:
        formula, by = "I = I0 (V/V0)^a", f"a {lamp.exponent:g}"
    else:
        formula, by = "P = e A (T^4 - Ta^4) + k (T - Ta)", f"f {lamp.conduction_share:g}"
    return Line(_("lamp"), formula, f"I0 {lamp.rated_current:.3f} A, {by}")


def _span_lines(value: OperatingPoint) -> list[Line]:
    lines = []
    if value.unit_volt:
        result = f"{value.unit_volt.low:.1f} – {value.unit_volt.high:.1f} V"
        lines.append(Line(_("unit, over the lamp law"), "a 0.45 – 0.60", result))
    if value.by_heat:
        unit, kelvin = value.by_heat.unit_volt, value.by_heat.filament_kelvin
        result = f"{unit.low:.1f} – {unit.high:.1f} V, {kelvin.low:.0f} – {kelvin.high:.0f} K"
        lines.append(Line(_("unit, filament by its heat"), "f 0.06 – 0.20", result))
    return lines


def _doubts(given: OperatingPointIn, value: OperatingPoint) -> list[str]:
    said = []
    count = value.models_with_point
    if count < MODELS and (value.points or count):
        said.append(
            _(
                "{count} of {models} lamp models have an operating point here: the load is close "
                "to the most this lamp can pass, take a larger one.",
                count=count,
                models=MODELS,
            )
        )
    if value.by_heat and value.by_heat.lamp_volt.low < LOW_SHARE * given.lamp.volt:
        said.append(
            _(
                "Below a fifth of the lamp's voltage law and heat differ: by heat the lamp takes "
                "{low:.1f} to {high:.1f} V here. Above half of it all models agree within 7 %.",
                low=value.by_heat.lamp_volt.low,
                high=value.by_heat.lamp_volt.high,
            )
        )
    return [*said, *disagreements()]
