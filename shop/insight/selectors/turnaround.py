"""How long repairs take, those still open counted in."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from statistics import median
from typing import NamedTuple, TypedDict
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Min

from shop.calc.turnaround import Stay, SummaryIn, summary
from shop.repairs.models import Repair, Stage, StageEvent
from shop.repairs.stages import UNREPAIRED

WEEKS = 26  # of booking in: what is judged
WEEKS_SHOWN = 12
DAY = timedelta(days=1)
# The shop's work ends there; how soon the customer comes is not the shop's doing.
FINISHED = [Stage.READY, *UNREPAIRED, Stage.HANDED_BACK, Stage.DISPOSED]


class WeekRow(TypedDict):
    week: date
    closed: int
    median_days: float | None


class Turnaround(TypedDict):
    median_days: float | None
    p85_days: float | None
    text: str
    closed: int
    open: int
    weeks: list[WeekRow]


class Visit(NamedTuple):
    booked_in_at: datetime
    finished_at: datetime | None


def turnaround(*, now: datetime, time_zone: str) -> Turnaround:
    """Days from booking in to finished, of everything booked in within the last 26 weeks."""
    visits = list(_visits(since=now - timedelta(weeks=WEEKS)))
    stays = [Stay(_days(visit, now), visit.finished_at is None) for visit in visits]
    answer = summary(SummaryIn(stays))
    curve, closed = answer.value, sum(not stay.is_open for stay in stays)
    return {
        "median_days": curve.median.days if curve else None,
        "p85_days": curve.most.days if curve else None,
        "text": answer.text,
        "closed": closed,
        "open": len(stays) - closed,
        "weeks": _weeks(visits, now, ZoneInfo(time_zone)),
    }


def _visits(*, since: datetime) -> Iterator[Visit]:
    finished: dict[UUID, datetime] = dict(
        StageEvent.objects.filter(repair__booked_in_at__gte=since, to_stage__in=FINISHED)
        .order_by()
        .values_list("repair_id")
        .annotate(first=Min("at"))
    )
    booked = Repair.objects.filter(booked_in_at__gte=since)
    for id, booked_in_at in booked.values_list("id", "booked_in_at"):
        yield Visit(booked_in_at, finished.get(id))


def _days(visit: Visit, now: datetime) -> float:
    """To a tenth of a day: nobody promises hours."""
    return round(max(((visit.finished_at or now) - visit.booked_in_at) / DAY, 0.0), 1)


def _weeks(visits: list[Visit], now: datetime, zone: ZoneInfo) -> list[WeekRow]:
    """The last weeks, oldest first, each with what was finished in it."""
    days: dict[date, list[float]] = defaultdict(list)
    for visit in visits:
        if visit.finished_at:
            days[_monday(visit.finished_at, zone)].append(_days(visit, now))
    this_week = _monday(now, zone)
    mondays = [this_week - timedelta(weeks=back) for back in reversed(range(WEEKS_SHOWN))]
    return [
        {
            "week": monday,
            "closed": len(days[monday]),
            "median_days": median(days[monday]) if days[monday] else None,
        }
        for monday in mondays
    ]


def _monday(at: datetime, zone: ZoneInfo) -> date:
    local = at.astimezone(zone).date()
    return local - timedelta(days=local.weekday())
