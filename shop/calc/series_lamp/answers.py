"""The operating point as an answer: all points, the span of the lamp law, words for a tech."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.series_lamp.lamp import (
    EXPONENT_SPAN,
    GLOW_WORDS,
    SOURCES,
    Lamp,
    cautions,
    disagreements,
)
from shop.calc.series_lamp.loads import Load
from shop.calc.series_lamp.points import Point, operating_points
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Working

SupplyVolt = Annotated[float, Meta(ge=0.1, le=500, description="V from the variable transformer")]


class OperatingPointIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A lamp, a load and a supply."""

    supply_volt: SupplyVolt
    lamp: Lamp
    load: Load


class Span(msgspec.Struct, frozen=True):
    """Lowest and highest value."""

    low: float
    high: float


class OperatingPoint(msgspec.Struct, frozen=True):
    """All points by the lamp's own exponent; the span of the stable one over 0.45 to 0.60."""

    points: list[Point]
    unit_volt: Span | None
    current_a: Span | None


@calculator("series_lamp.operating_point", "Where a series lamp and a unit share the supply")
def operating_point(given: OperatingPointIn) -> Answer[OperatingPoint]:
    """Solve lamp and load. No operating point is an answer: the unit would hiccup or starve."""
    given = fit(given)
    points = operating_points(given.lamp, given.load, given.supply_volt)
    over = [
        point
        for exponent in EXPONENT_SPAN
        for point in operating_points(
            given.lamp.with_exponent(exponent), given.load, given.supply_volt
        )
        if point.is_stable
    ]
    value = OperatingPoint(
        points, span(point.unit_volt for point in over), span(point.current_a for point in over)
    )
    outcome, text = _in_words(points)
    return Answer(outcome, text, value, _working(given, points))


def span(values: Iterable[float]) -> Span | None:
    """Lowest and highest of some values; None of none."""
    listed = list(values)
    return Span(min(listed), max(listed)) if listed else None


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


def _working(given: OperatingPointIn, points: list[Point]) -> Working:
    lines = [
        Line(
            _("lamp"),
            "I = I0 (V/V0)^a",
            f"I0 {given.lamp.rated_current:.3f} A, a {given.lamp.exponent:g}",
        )
    ]
    for point in points:
        state = _("stable point") if point.is_stable else _("starved point")
        drop = _("{lamp:.2f} V lamp, {unit:.2f} V unit", lamp=point.lamp_volt, unit=point.unit_volt)
        lines.append(Line(state, "Vs = VL(I) + VU", drop))
    return Working(lines, SOURCES, cautions(), disagreements())
