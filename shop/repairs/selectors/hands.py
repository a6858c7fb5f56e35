"""Into whose hands repairs came last."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from shop.core.models import Person
from shop.repairs.models import Hands, StageEvent


def last_hands(repairs: Iterable[UUID]) -> dict[UUID, StageEvent]:
    """For each repair the last event that brought it into somebody's hands, or put it back."""
    events = StageEvent.objects.filter(repair__in=list(repairs)).exclude(hands="")
    found = events.select_related("by").order_by("at", "id")
    return {event.repair_id: event for event in found}


def is_waiting_for(last: StageEvent | None, person: Person) -> bool:
    """Whether a repair was handed to this person and they have not taken it yet."""
    return last is not None and last.hands == Hands.HANDED and last.handed_to_id == person.id
