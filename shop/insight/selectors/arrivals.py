"""Repairs that still wait for parts though all of them lie on the wall."""

from __future__ import annotations

from collections.abc import Iterable
from uuid import UUID

from django.db.models import F, Sum

from shop.insight.selectors.situations import parts_waited_for
from shop.repairs.models import Repair
from shop.stock.models import Reservation, StockLevel


def repairs_with_parts_here(repairs: Iterable[Repair]) -> set[UUID]:
    """Of these, the repairs for which every part that is known to be waited for can be taken."""
    ids = {repair.id for repair in repairs}
    wanted = {id: parts for id, parts in parts_waited_for().items() if id in ids and parts}
    free = _free({part for parts in wanted.values() for part in parts})
    aside = _set_aside(ids)
    return {
        id
        for id, parts in wanted.items()
        if all(part in free or (id, part) in aside for part in parts)
    }


def _free(parts: set[UUID]) -> set[UUID]:
    """Parts of which at least one piece lies on the wall for whoever comes."""
    levels = StockLevel.objects.filter(part__in=parts).order_by().values_list("part_id")
    left = levels.annotate(left=Sum(F("on_hand") - F("reserved")))
    return {part for part, pieces in left if pieces > 0}


def _set_aside(repairs: set[UUID]) -> set[tuple[UUID, UUID]]:
    """(repair, part) of what is set aside."""
    kept = Reservation.objects.filter(repair__in=repairs, left__gt=0)
    return set(kept.values_list("repair_id", "level__part_id"))
