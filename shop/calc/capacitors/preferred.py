"""The nearest preferred value of a series, by ratio."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.preferred_values import (
    MEMBERS,
    SERIES_SOURCE,
    TOLERANCE_PERCENT,
    Series,
    around,
    nearest,
)
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working


class PreferredIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A value in any unit, and the series it should be found in."""

    value: Annotated[
        float,
        Meta(
            title="Value",
            ge=1e-15,
            le=1e15,
            description="ohms, farads or any other unit: the answer is in the same",
            examples=[27300.0],
        ),
    ]
    series: Annotated[
        Series,
        Meta(
            title="Series",
            description="E12 for most parts of old equipment, E96 for 1 % resistors",
            extra_json_schema={
                "x-labels": {
                    "E3": "E3, above 20 %",
                    "E6": "E6, 20 %",
                    "E12": "E12, 10 %",
                    "E24": "E24, 5 %",
                    "E48": "E48, 2 %",
                    "E96": "E96, 1 %",
                    "E192": "E192, 0.5 %",
                }
            },
        ),
    ] = "E12"


class Preferred(msgspec.Struct, frozen=True):
    """Nearest by ratio, its neighbours (both the same if the value is a member), and the error."""

    nearest: float
    below: float
    above: float
    off_percent: float
    tolerance_percent: float | None
    is_member: bool


EXAMPLE = {"value": 57.0, "series": "E6"}


@calculator(
    "capacitors.preferred",
    "Nearest preferred value",
    question="Which value of a series lies nearest to this one?",
    example=EXAMPLE,
)
def preferred(given: PreferredIn) -> Answer[Preferred]:
    """The member of an E series nearest by ratio, with both neighbours.

    Units: any; the answer is in the unit of the value. Formula: the member m with the least
    |ln(m / value)|. Range: 1e-15 to 1e15. Raises BadInput outside of it.
    Source: IEC 60063 (values); by ratio is our choice.
    """
    given = fit(given)
    below, above = around(given.value, given.series)
    found = nearest(given.value, given.series)
    value = Preferred(
        nearest=found,
        below=below,
        above=above,
        off_percent=(found / given.value - 1) * 100,
        tolerance_percent=TOLERANCE_PERCENT[given.series],
        is_member=below == above,
    )
    text = _(
        "{found:g}, {off:+.1f} % from {asked:g}.",
        found=found,
        off=value.off_percent,
        asked=given.value,
    )
    return Answer(Outcome.OK, text, value, _working(given, value))


def _working(given: PreferredIn, value: Preferred) -> Working:
    members = len(MEMBERS[given.series])
    lines = [
        Line(_("series"), given.series, _("{count} values in a decade", count=members)),
        Line(_("at or below"), f"m / {given.value:g}",
             f"{value.below:g} (x {value.below / given.value:.4f})"),
        Line(_("at or above"), f"m / {given.value:g}",
             f"{value.above:g} (x {value.above / given.value:.4f})"),
        Line(_("nearest by ratio"), "min |ln(m / value)|", f"{value.nearest:g}"),
    ]  # fmt: skip
    sources = [SERIES_SOURCE, Source("nearest by ratio, not by difference", Status.PROPOSED)]
    return Working(lines, sources, disagreements=_differ(given, value))


def _differ(given: PreferredIn, value: Preferred) -> list[str]:
    by_difference = min(value.below, value.above, key=lambda member: abs(member - given.value))
    differ = []
    if by_difference != value.nearest:
        differ.append(
            _(
                "By difference {other:g} would be nearest; tolerances are ratios, so the ratio "
                "decides.",
                other=by_difference,
            )
        )
    if given.series == "E3":
        differ.append(_("E3 tolerance: above 20 % by the standard, 40 % in one library."))
    return differ
