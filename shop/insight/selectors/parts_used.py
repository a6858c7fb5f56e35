"""Which parts went into repairs, by month and job template."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import TypedDict
from zoneinfo import ZoneInfo

from django.db.models import Case, F, Q, Sum, When
from django.db.models.functions import TruncMonth

from shop.jobs.models import JobTemplate
from shop.stock.models import Move, Place

MONTHS = 6


class PartUsed(TypedDict):
    month: str
    template: str
    part: str
    name: str
    quantity: int


def parts_used(*, time_zone: str, today: date) -> list[PartUsed]:
    """Pieces taken less pieces returned of the last six months, newest month first."""
    since = _months_before(today.replace(day=1), MONTHS - 1)
    local = ZoneInfo(time_zone)
    signed = Case(When(to_place=Place.REPAIR, then=F("quantity")), default=-F("quantity"))
    rows = (
        Move.objects.filter(Q(to_place=Place.REPAIR) | Q(from_place=Place.REPAIR))
        .filter(at__gte=datetime(since.year, since.month, 1, tzinfo=local))
        .annotate(month=TruncMonth("at", tzinfo=local))
        .values_list("month", "template", "part__code", "part__name")
        .annotate(pieces=Sum(signed))
        .order_by("-month", "template", "part__name")
    )
    titles = dict(JobTemplate.objects.values_list("slug", "title"))
    return [
        {
            "month": f"{month:%Y-%m}",
            "template": titles.get(template, template),
            "part": code,
            "name": name,
            "quantity": pieces,
        }
        for month, template, code, name, pieces in rows
        if pieces
    ]


def _months_before(first: date, months: int) -> date:
    for _step in range(months):
        first = (first - timedelta(days=1)).replace(day=1)
    return first
