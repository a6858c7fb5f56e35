"""How long repairs take, with the open ones counted in, and how much of it was working time.

Kaplan-Meier: S(t) = product of (1 - d / n) over the times at which repairs were handed back, n
those still in the shop just before, d handed back then. Open repairs count up to their present age
and not as finished; leaving them out makes every figure too short. Greenwood's standard error:
S sqrt(sum d / (n (n - d))). A share p is done at the first t with S(t) <= 1 - p; if the curve never
comes down that far, the answer is "more than" the last time seen, not a number.
Source: Kaplan and Meier, J. Am. Stat. Assoc. 53 (1958) 457-481 (from memory).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from math import ceil, sqrt
from typing import Annotated

import msgspec
from msgspec import Meta

from shop.calc.fields import fit
from shop.calc.registry import calculator
from shop.calc.words import _
from shop.calc.working import Answer, BadInput, Line, Outcome, Source, Status, Working

# 1 - 1/2 - 1/4 and the like must reach the half in spite of the last bit.
_SLACK = 1e-12


class Stay(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One repair: its length so far, and whether it is still open."""

    days: Annotated[
        float,
        Meta(ge=0, le=36500, title="Length of stay", description="elapsed or working, 0 to 36500"),
    ]
    is_open: Annotated[
        bool, Meta(title="Still in the shop", description="counted up to its present age")
    ]


class CurvePoint(msgspec.Struct, frozen=True):
    """Share still in the shop after `days`, and its standard error."""

    days: float
    share_left: float
    standard_error: float


class Milestone(msgspec.Struct, frozen=True):
    """When a share is done: `days`, or only that it is `more_than_days`, or neither."""

    share: float
    days: float | None
    more_than_days: float | None


class SummaryIn(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Repairs of a period, open ones with their present age."""

    stays: Annotated[
        list[Stay],
        Meta(max_length=200_000, title="Repairs", description="handed back and open, up to 200000"),
    ]


class Summary(msgspec.Struct, frozen=True):
    """The curve, the median and the 85 % point, and how many were open."""

    median: Milestone
    most: Milestone
    curve: list[CurvePoint]
    closed: int
    still_open: int


def kaplan_meier(stays: Iterable[Stay]) -> list[CurvePoint]:
    """Share still in the shop, at each time at which a repair was handed back."""
    counts: dict[float, tuple[int, int]] = {}
    for stay in stays:
        done, left = counts.get(stay.days, (0, 0))
        counts[stay.days] = (done + (not stay.is_open), left + 1)
    at_risk = sum(left for _done, left in counts.values())
    share, variance, curve = 1.0, 0.0, []
    for days, (done, left) in sorted(counts.items()):
        if done:
            share *= 1 - done / at_risk
            variance += done / (at_risk * (at_risk - done)) if at_risk > done else 0.0
            curve.append(CurvePoint(days, share, share * sqrt(variance)))
        at_risk -= left
    return curve


def done_by(curve: list[CurvePoint], share: float) -> Milestone:
    """When `share` of the repairs is done."""
    for point in curve:
        if point.share_left <= 1 - share + _SLACK:
            return Milestone(share, point.days, None)
    return Milestone(share, None, curve[-1].days if curve else None)


def median_days_left(curve: list[CurvePoint], age_days: float) -> float | None:
    """How much longer a repair of this age takes, half of them; None if not to be told.

    The first t with S(t) <= S(age) / 2, less the age.
    """
    left = next((p.share_left for p in reversed(curve) if p.days <= age_days), 1.0)
    later = (p.days for p in curve if p.days > age_days and p.share_left <= left / 2 + _SLACK)
    reached = next(later, None)
    return None if reached is None else reached - age_days


def percentile(values: list[float], share: float) -> float:
    """Nearest rank: the smallest value with at least this share at or below it.

    Raises BadInput for no values or a share not in 0 to 1.
    """
    if not values or not 0 < share <= 1:
        reason = _("A percentile needs values and a share above 0 and up to 1.")
        raise BadInput("values", reason, "out_of_range")
    return sorted(values)[max(ceil(share * len(values) - 1e-9), 1) - 1]


@calculator(
    "turnaround.summary",
    "How long repairs take, open ones counted in",
    question="How long does a repair take in this shop?",
    # The maintained group printed in github.com/cran/survival, tests/doaml.Rout.save.
    example={
        "stays": [
            {"days": 9, "is_open": False},
            {"days": 13, "is_open": False},
            {"days": 13, "is_open": True},
            {"days": 18, "is_open": False},
            {"days": 23, "is_open": False},
            {"days": 28, "is_open": True},
            {"days": 31, "is_open": False},
            {"days": 34, "is_open": False},
            {"days": 45, "is_open": True},
            {"days": 48, "is_open": False},
            {"days": 161, "is_open": True},
        ]
    },
)
def summary(given: SummaryIn) -> Answer[Summary]:
    """Median and 85 % point of the time in the shop.

    Units: days. Source: Kaplan and Meier 1958, product-limit estimate.
    """
    given = fit(given)
    curve = kaplan_meier(given.stays)
    open_count = sum(stay.is_open for stay in given.stays)
    median, most = done_by(curve, 0.5), done_by(curve, 0.85)
    value = Summary(median, most, curve, len(given.stays) - open_count, open_count)
    working = Working(
        [
            Line(_("median"), "S(t) <= 0.5", _days(median)),
            Line("85 %", "S(t) <= 0.15", _days(most)),
        ],
        [Source("product-limit estimate", Status.FROM_MEMORY, "J. Am. Stat. Assoc. 53 (1958) 457")],
        [_("Open repairs count up to their present age; leaving them out looks too good.")],
    )
    if not curve:
        text = _("No repair is finished yet: not to be told.")
        return Answer(Outcome.NO_ANSWER, text, value, working)
    half = _("half")
    text = f"{_sentence(half, median)}, {_sentence('85 %', most)}"
    return Answer(Outcome.OK, text, value, working)


def _sentence(share: str, milestone: Milestone) -> str:
    """When this share is done, or that it takes longer than anybody has seen."""
    if milestone.days is not None:
        return _("{share} are done within {days:g} days", share=share, days=milestone.days)
    if milestone.more_than_days:
        return _("{share} take more than {days:g} days", share=share, days=milestone.more_than_days)
    return _("for {share} it cannot be told yet", share=share)


def _days(milestone: Milestone) -> str:
    if milestone.days is not None:
        return _("{days:g} days", days=milestone.days)
    if milestone.more_than_days is not None:
        return _("more than {days:g} days", days=milestone.more_than_days)
    return _("not to be told")


class Clock(msgspec.Struct, frozen=True):
    """Elapsed time, and what of it was not paused."""

    elapsed: timedelta
    working: timedelta


def clock(
    begun_at: datetime, ended_at: datetime, pauses: Iterable[tuple[datetime, datetime | None]]
) -> Clock:
    """Elapsed and working time between two instants. Pauses may overlap; None is still paused.

    All times aware. Raises BadInput for times without a zone or the wrong way round.
    """
    _in_order("begun_at", begun_at, ended_at)
    listed = [(start, end or max(start, ended_at)) for start, end in pauses if _has_zone(start)]
    for start, end in listed:
        _in_order("pauses", start, end)
    elapsed = ended_at.timestamp() - begun_at.timestamp()
    paused, seen = 0.0, begun_at.timestamp()
    for start, end in sorted(listed):
        until = min(end.timestamp(), ended_at.timestamp())
        paused += max(until - max(start.timestamp(), seen), 0.0)
        seen = max(seen, until)
    return Clock(timedelta(seconds=elapsed), timedelta(seconds=elapsed - paused))


def _has_zone(start: datetime) -> bool:
    _in_order("pauses", start, start)
    return True


def _in_order(field: str, start: datetime, end: datetime) -> None:
    if start.tzinfo is None or end.tzinfo is None:
        raise BadInput(field, _("A time needs its zone."), "not_aware")
    if end < start:
        raise BadInput(field, _("It ends before it begins."), "limits_crossed")
