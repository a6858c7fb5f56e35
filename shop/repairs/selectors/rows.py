"""Repairs as rows of lists: one query, whatever their number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.contrib.auth.models import AnonymousUser
from django.db.models import Q, QuerySet
from django.utils import timezone

from shop.calc.codes import normalise
from shop.core.models import Person
from shop.core.selectors import the_shop
from shop.core.words import text_matches
from shop.customers.selectors import contact_matches, may_see_contacts
from shop.repairs.models import Repair
from shop.repairs.words import stage_words, waiting_for

# What a row is built of; all of it comes with one query.
FIELDS = (
    "id",
    "number",
    "stage",
    "stage_since",
    "booked_in_at",
    "closed_at",
    "due_on",
    "unit__code",
    "unit__make",
    "unit__model",
    "unit__serial",
    "assigned_to_id",
    "assigned_to__name",
)
MAX_NUMBER = 2_147_483_647


def repairs_visible_to(person: Person | AnonymousUser) -> QuerySet[Repair]:
    """All repairs for whoever works here, none for everybody else."""
    return Repair.objects.all() if person.is_active else Repair.objects.none()


def repairs_matching(scrap: str, person: Person | AnonymousUser) -> QuerySet[Repair]:
    """The repairs that a scrap fits, each once."""
    # By id, because a unit with several pieces would come several times.
    ids = repairs_visible_to(person).filter(_matching(scrap, person)).values("id")
    return repairs_visible_to(person).filter(id__in=ids)


def _matching(scrap: str, person: Person | AnonymousUser) -> Q:
    """Repairs that a scrap fits: number, code of unit or piece, make, model, serial, customer.

    Telephone numbers and mail addresses match only for who may see them.
    """
    scrap = scrap.strip()
    code = normalise(scrap)
    found = text_matches(
        scrap, "unit__make", "unit__model", "unit__serial", "unit__code", "customer__name"
    )
    found |= Q(unit__code=code) | Q(unit__pieces__code=code)
    if (number := number_in(scrap)) is not None:
        found |= Q(number=number)
    if may_see_contacts(person):
        found |= contact_matches(scrap, at="customer__")
    return found


def number_in(scrap: str) -> int | None:
    """The number of a repair, if the scrap may be one: digits alone, however few, or with "#"."""
    digits = scrap.strip().lstrip("#")
    is_number = digits.isascii() and digits.isdigit() and int(digits) <= MAX_NUMBER
    return int(digits) if is_number else None


def row_values(
    repairs: QuerySet[Repair], person: Person | AnonymousUser
) -> QuerySet[Any, dict[str, Any]]:
    """The values `repair_rows` needs; can still be paged and sliced.

    Whoever may not see how to reach customers does not get their names either: a phone keeps rows.
    """
    fields = (*FIELDS, "customer__name") if may_see_contacts(person) else FIELDS
    rows: QuerySet[Any, dict[str, Any]] = repairs.values(*fields)
    return rows


def repair_rows(values: Iterable[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Rows of lists, with where each repair stands in words."""
    zone, now = ZoneInfo(the_shop().time_zone), timezone.now()
    return [_row(value, now, zone) for value in values]


def _row(value: Mapping[str, Any], now: datetime, zone: ZoneInfo) -> dict[str, Any]:
    stage, today = value["stage"], now.astimezone(zone).date()
    end = (value["closed_at"] or now).astimezone(zone).date()
    tech = value["assigned_to_id"]
    return {
        "id": value["id"],
        "number": str(value["number"]),
        "stage": stage,
        "stage_since": value["stage_since"],
        "stage_words": stage_words(stage, value["stage_since"], today, zone),
        "unit": {name: value[f"unit__{name}"] for name in ("code", "make", "model", "serial")},
        "customer_name": value.get("customer__name", ""),
        "due_on": value["due_on"],
        "assigned_to": tech and {"id": tech, "name": value["assigned_to__name"]},
        "age_days": (end - value["booked_in_at"].astimezone(zone).date()).days,
        "waiting_for": waiting_for(stage),
    }
