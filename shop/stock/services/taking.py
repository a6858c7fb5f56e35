"""Taking parts for a repair."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction

from shop.core import outbox
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.repairs.models import Repair
from shop.stock.models import Bin, Move, Part, Place, StockLevel
from shop.stock.selectors import fullest_level, part_by_code
from shop.stock.services import levels


@transaction.atomic
def take_part(
    *,
    id: UUID,
    part: Part | str,
    quantity: int,
    repair: Repair,
    by: Person,
    at: datetime,
    template: str = "",
    bin: Bin | None = None,
) -> Move:
    """Take pieces out of a bin for a repair; without a bin, from the one with most free pieces.

    `part` may be a tag code or a supplier's order code. A repeat of the id returns the first move.
    If the books hold too few, the move is recorded all the same with `short`: what was done at
    the bench is never lost, and a person has to count. Raises NoSuchPart, Conflict.
    """
    part = part_by_code(part) if isinstance(part, str) else part
    level = fullest_level(part=part, bin=bin)
    content = {"part": part, "quantity": quantity, "repair": repair, "by": by}
    move, created = Move.objects.get_or_create(
        id=id, defaults={**content, **_way(part, level, bin), "at": at, "template": template}
    )
    if not created:
        return require_same(move, **content, from_place=Place.BIN, to_place=Place.REPAIR)
    move.short = _take(level, repair, quantity)
    if move.short:
        move.save(update_fields=["short"])
    outbox.record("stock.check_reorder", key=f"reorder:{id}", part_id=str(part.id))
    return move


def _way(part: Part, level: StockLevel | None, bin: Bin | None) -> dict[str, object]:
    return {
        "from_place": Place.BIN,
        "to_place": Place.REPAIR,
        "bin": level.bin if level else bin,
        "cost_minor": part.cost_minor,
        "price_minor": part.price_minor,
    }


def _take(level: StockLevel | None, repair: Repair, quantity: int) -> int:
    """Lower the level; returns how many pieces the books did not know of."""
    if level is None:
        return quantity
    levels.use_reservations(level=level, repair_id=repair.id, quantity=quantity)
    if levels.take_free(level=level, quantity=quantity):
        return 0
    return levels.take_what_is_there(level=level, quantity=quantity)
