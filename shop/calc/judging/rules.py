"""Is a reading right? The verdict, by the decision rule and the accuracy of the meter.

Phone and server both judge, so every formula here is in IEEE doubles with the order of operations
written down; the shared table of cases in `tests/vectors/judge.json` holds both to it.

Uncertainty of a reading: meter limit = (|value| x pct) / 100 + counts x resolution, in this order;
u = limit / 1.7320508075688772 (a limit is taken as rectangular, JCGM 100:2008 4.3.7);
U = 2 x u (k = 2).

Decision rules, w is the guard band (ILAC-G8:09/2019, pages 9 and 10):

* `simple`: w = 0. At or inside the limits is a pass, outside a fail.
* `guarded`: w = U. Pass from low + w to high - w; outside the limits a fail; between: borderline.
* `non_binary`: w = U. Pass as above; beyond low - w or high + w a fail; between: borderline.

With both limits and low + w > high - w no reading can pass: the meter is not good enough, unless
the reading is beyond low - w or high + w, which is a fail with any meter. Limits belong to the
band. Which rule is the default for what is a proposal made here: guarded for safety limits, simple
for adjustments with the risk shown.
"""

from __future__ import annotations

from enum import StrEnum
from itertools import pairwise
from math import erfc, inf, isfinite
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.words import _
from shop.calc.working import BadInput

SQRT_3 = 1.7320508075688772
SQRT_2 = 1.4142135623730951


class Rule(StrEnum):
    """Decision rules, see the head of this module."""

    SIMPLE = "simple"
    GUARDED = "guarded"
    NON_BINARY = "non_binary"


class Verdict(StrEnum):
    """What a reading is worth."""

    PASS = "pass"  # noqa: S105 - a verdict, not a password
    FAIL = "fail"
    BORDERLINE = "borderline"
    METER_NOT_GOOD_ENOUGH = "meter_not_good_enough"
    NOT_JUDGED = "not_judged"


class Band(msgspec.Struct, frozen=True):
    """Lower and upper limit of a reading; None is no limit on that side."""

    low: float | None
    high: float | None


class Accuracy(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A meter's accuracy on the range in use: +-(pct of reading + counts x resolution)."""

    pct: Annotated[
        float,
        Meta(ge=0, le=100, title="Per cent of reading", description="as printed", examples=[0.5]),
    ]
    counts: Annotated[
        float, Meta(ge=0, le=1e6, title="Counts", description="counts of the last digit")
    ]
    resolution: Annotated[
        float,
        Meta(
            ge=0,
            le=1e12,
            title="One count",
            description="weight of one count, in the unit of the reading",
        ),
    ]


def meter_limit(value: float, accuracy: Accuracy) -> float:
    """Largest error of a reading by the meter's specification, in the unit of the reading."""
    _finite("value", value)
    return (abs(value) * accuracy.pct) / 100.0 + accuracy.counts * accuracy.resolution


def expanded_uncertainty(value: float, accuracy: Accuracy) -> float:
    """U with k = 2, in the unit of the reading. Source: JCGM 100:2008 4.3.7 and 6.2.1."""
    return 2.0 * (meter_limit(value, accuracy) / SQRT_3)


def judge(
    value: float, low: float | None, high: float | None, expanded_uncertainty: float, rule: Rule
) -> Verdict:
    """The verdict on one reading. All in the unit of the reading.

    Raises BadInput (codes not_finite, negative, limits_crossed) with the name of the argument.
    """
    _finite("value", value)
    _usable(low, high, expanded_uncertainty)
    if low is None and high is None:
        return Verdict.NOT_JUDGED
    lowest = -inf if low is None else low
    highest = inf if high is None else high
    return _within(value, lowest, highest, 0.0 if rule is Rule.SIMPLE else expanded_uncertainty,
                   rule)  # fmt: skip


def _within(value: float, low: float, high: float, w: float, rule: Rule) -> Verdict:
    """Compare with the limits. An open side is an infinity, which adding w leaves as it is."""
    beyond = value < low - w or value > high + w
    if low + w > high - w:
        return Verdict.FAIL if beyond else Verdict.METER_NOT_GOOD_ENOUGH
    if low + w <= value <= high - w:
        return Verdict.PASS
    outside = value < low or value > high
    if beyond or (outside and rule is not Rule.NON_BINARY):
        return Verdict.FAIL
    return Verdict.BORDERLINE


def judge_over_range(range_end: float | None, low: float | None, high: float | None) -> Verdict:
    """The verdict on "over range": all that is known is that the value is above `range_end`.

    An insulation reading beyond the meter's range passes a lower limit; a current beyond it fails
    an upper one; everything else cannot be judged. `range_end` must already be less the meter's
    uncertainty there.
    """
    if range_end is None:
        return Verdict.NOT_JUDGED
    _finite("range_end", range_end)
    _usable(low, high, 0.0)
    if high is not None:
        return Verdict.FAIL if range_end >= high else Verdict.NOT_JUDGED
    return Verdict.PASS if low is not None and range_end >= low else Verdict.NOT_JUDGED


def chance_outside(
    value: float, low: float | None, high: float | None, expanded_uncertainty: float
) -> float:
    """Chance that the true value lies outside the limits: the risk of accepting. For display.

    Formula: 1 - (Phi((high - y) / u) - Phi((low - y) / u)), u = U / 2, normal.
    Source: JCGM 106:2012 clause 7 (from memory; method seen at metrologyrules.com/2022/03).
    """
    _finite("value", value)
    _usable(low, high, expanded_uncertainty)
    u = expanded_uncertainty / 2.0
    below = 0.0 if low is None else _tail(value - low, u)
    above = 0.0 if high is None else _tail(high - value, u)
    return min(1.0, below + above)


def _tail(margin: float, u: float) -> float:
    """Chance that the error eats up the margin: Phi(-margin / u)."""
    if u == 0:
        return 0.0 if margin >= 0 else 1.0
    return 0.5 * erfc((margin / u) / SQRT_2)


def band_at(points: list[tuple[float, float | None, float | None]], x: float) -> Band | None:
    """The band at `x` along another reading; None where the points say nothing.

    `points` are (x, low, high), x rising. Between two points each limit runs straight:
    t = (x - x0) / (x1 - x0); limit = l0 + (l1 - l0) x t. On a point its own limits hold. A side
    without a limit at either end has none between.
    Raises BadInput (codes not_finite, points_not_rising, limits_crossed).
    """
    _finite("x", x)
    _rising(points)
    for at, low, high in points:
        if at == x:
            return Band(low, high)
    for (x0, low0, high0), (x1, low1, high1) in pairwise(points):
        if x0 < x < x1:
            t = (x - x0) / (x1 - x0)
            return Band(_between(low0, low1, t), _between(high0, high1, t))
    return None


def _between(start: float | None, end: float | None, t: float) -> float | None:
    return None if start is None or end is None else start + (end - start) * t


def _rising(points: list[tuple[float, float | None, float | None]]) -> None:
    for index, (at, low, high) in enumerate(points):
        _finite(f"points[{index}][0]", at)
        _usable(low, high, 0.0)
        if index and at <= points[index - 1][0]:
            reason = _("The points of a band must rise along the other reading.")
            raise BadInput(f"points[{index}][0]", reason, "points_not_rising")


def _finite(field: str, value: float) -> None:
    if not isfinite(value):
        raise BadInput(field, _("This must be a finite number."), "not_finite")


def _usable(low: float | None, high: float | None, uncertainty: float) -> None:
    for field, limit in (("low", low), ("high", high), ("expanded_uncertainty", uncertainty)):
        if limit is not None:
            _finite(field, limit)
    if uncertainty < 0:
        reason = _("An uncertainty is not negative.")
        raise BadInput("expanded_uncertainty", reason, "negative")
    if low is not None and high is not None and low > high:
        raise BadInput("low", _("The lower limit is above the upper one."), "limits_crossed")
