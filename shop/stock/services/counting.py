"""Counting a bin: what a person saw is the truth, and the books follow by a move."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction

from shop.core import outbox
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.stock.models import Bin, Move, Part, Place, StockCount, StockLevel
from shop.stock.services import levels


@transaction.atomic
def count_bin(
    *,
    id: UUID,
    part: Part,
    bin: Bin,
    counted: int,
    by: Person,
    at: datetime,
    reason: str = "",
) -> StockCount:
    """Set a bin to what was counted. A difference becomes a move with the same id.

    A repeat of the id changes nothing, even if pieces were taken since. Raises Conflict.
    """
    content = {"part": part, "bin": bin, "counted": counted}
    count, created = StockCount.objects.get_or_create(
        id=id, defaults={**content, "by": by, "at": at}
    )
    if not created:
        return require_same(count, **content)
    StockLevel.objects.get_or_create(part=part, bin=bin)
    level = StockLevel.objects.select_for_update().get(part=part, bin=bin)
    if level.on_hand != counted:
        _move_difference(count, level, reason)
    return count


def _move_difference(count: StockCount, level: StockLevel, reason: str) -> None:
    more = count.counted - level.on_hand
    here, there = (Place.COUNT, Place.BIN) if more > 0 else (Place.BIN, Place.COUNT)
    Move.objects.create(
        id=count.id,
        part=count.part,
        quantity=abs(more),
        from_place=here,
        to_place=there,
        bin=count.bin,
        cost_minor=count.part.cost_minor,
        by=count.by,
        at=count.at,
        reason=reason,
    )
    if more > 0:
        levels.add_to_level(part=count.part, bin=count.bin, quantity=more)
        return
    levels.lower_level(level=level, to=count.counted)
    outbox.record("stock.check_reorder", key=f"reorder:{count.id}", part_id=str(count.part_id))
