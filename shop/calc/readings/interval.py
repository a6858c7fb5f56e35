"""When a meter is to be checked again, by how it did at its last checks."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, Line, Outcome, Source, Status, Working

FIRST_MONTHS: Final = 12.0
LONGEST_MONTHS: Final = 36.0
SHORTEST_MONTHS: Final = 1.0
WELL_WITHIN_PERCENT: Final = 80.0
Share = Annotated[float, Meta(ge=0, le=10_000)]


class IntervalIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The interval in use, and the checks so far."""

    checks_percent: Annotated[
        list[Share],
        Meta(
            max_length=50,
            title="Checks so far",
            description="largest error found at each, in per cent of the permitted one; oldest "
            "first, 100 is just within",
        ),
    ]
    present_months: Annotated[
        float,
        Meta(
            ge=1,
            le=36,
            title="Interval in use",
            description="1 to 36; a new meter begins with 12",
        ),
    ] = FIRST_MONTHS


class Interval(msgspec.Struct, frozen=True):
    """The next interval, and whether jobs since the last good check are to be looked at again."""

    next_months: float
    recheck_jobs: bool


@calculator(
    "readings.calibration_interval",
    "When a meter is to be checked again",
    question="When does this meter have to be checked again?",
    example={"checks_percent": [45, 70], "present_months": 12},
)
def calibration_interval(given: IntervalIn) -> Answer[Interval]:
    """Staircase: two checks well within in a row x 1.5, a failed one x 0.5, else unchanged.

    Units: months, %. Source: ILAC-G24:2022, staircase; the figures are our proposal.
    """
    given = fit(given)
    factor, why = _factor(given.checks_percent)
    months = min(max(given.present_months * factor, SHORTEST_MONTHS), LONGEST_MONTHS)
    has_failed = factor < 1
    text = _("Check it again in {months:g} months.", months=months)
    lines = [Line(_("next interval"), f"{given.present_months:g} x {factor:g}, {why}",
                  _("{months:g} months", months=months))]  # fmt: skip
    cautions = (
        [_("Look again at every reading that was judged with it since its last good check.")]
        if has_failed
        else []
    )
    outcome = Outcome.WARN if has_failed else Outcome.OK
    return Answer(outcome, text, Interval(months, has_failed), Working(lines, SOURCES, cautions))


def _factor(checks: list[float]) -> tuple[float, str]:
    """By what the interval changes, and why."""
    if not checks:
        return 1.0, _("no check yet")
    if checks[-1] > 100:
        return 0.5, _("the last check failed")
    if len(checks) >= 2 and max(checks[-2:]) <= WELL_WITHIN_PERCENT:
        return 1.5, _("twice in a row within {percent:g} %", percent=WELL_WITHIN_PERCENT)
    return 1.0, _("within, but not twice well within")


SOURCES: Final = [
    Source("staircase method: a good result lengthens the interval, a failed one shortens it",
           Status.FROM_MEMORY, "ILAC-G24:2022 / OIML D 10:2022, 6.2 (its title was seen)"),
    Source("12 months to begin with, x 1.5 up to 36, half after a failure", Status.PROPOSED),
]  # fmt: skip
