"""What belongs to one repair or one unit."""

from __future__ import annotations

from typing import Any

from shop.repairs import stages
from shop.repairs.clocks import Mark
from shop.repairs.models import Repair
from shop.repairs.words import outcome_words
from shop.units.models import Unit


def stage_marks(repair: Repair) -> list[Mark]:
    """Each stage and when it began, oldest first: what the clocks are computed from."""
    events = repair.events.order_by("at", "id")
    return list(events.values_list("to_stage", "at"))


def event_rows(repair: Repair) -> list[dict[str, Any]]:
    """Every change of stage and of hands, oldest first. By nobody: the customer or a rule."""
    events = repair.events.order_by("at", "id").select_related("by", "handed_to")
    return [
        {
            "id": event.id,
            "from": event.from_stage,
            "to": event.to_stage,
            "at": event.at,
            "by_name": str(event.by) if event.by else "",
            "reason": event.reason,
            "hands": event.hands or None,
            "handed_to": event.handed_to_id,
            "handed_to_name": str(event.handed_to) if event.handed_to else "",
        }
        for event in events
    ]


def photo_rows(repair: Repair) -> list[dict[str, Any]]:
    photos = repair.photos.order_by("taken_at", "id")
    return [dict(row) for row in photos.values("sha256", "caption", "taken_at")]


def earlier_visits(repair: Repair) -> list[dict[str, Any]]:
    """Other visits of the same unit, newest first."""
    others = Repair.objects.filter(unit_id=repair.unit_id).exclude(id=repair.id)
    fields = ("id", "number", "booked_in_at", "complaint", "outcome")
    rows = others.order_by("-booked_in_at").values(*fields)[:20]
    return [
        {**row, "number": str(row["number"]), "outcome": outcome_words(row["outcome"])}
        for row in rows
    ]


def open_repair_of(unit: Unit) -> Repair | None:
    """The visit for which a unit is in the shop now; the constraint allows one.

    Every scan asks this, so only what names it is fetched; the rest follows when it is asked for.
    """
    open_ones = Repair.objects.filter(unit=unit).exclude(stage__in=stages.CLOSED)
    return open_ones.only("id", "number", "stage").first()
