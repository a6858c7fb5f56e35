"""Setting parts aside for a repair."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.db.models import F

from shop.core import outbox
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.repairs.models import Repair
from shop.stock.errors import NotEnoughStock
from shop.stock.models import Reservation, StockLevel
from shop.stock.services import levels


@transaction.atomic
def reserve_part(
    *, id: UUID, repair: Repair, level: StockLevel, quantity: int, by: Person, at: datetime
) -> Reservation:
    """Set pieces of one bin aside for a repair. A repeat of the id returns the first result.

    Raises NotEnoughStock if the bin holds fewer free pieces, Conflict if the id has other content.
    """
    wanted = {"repair": repair, "level": level, "quantity": quantity}
    reservation, created = Reservation.objects.get_or_create(
        id=id, defaults={**wanted, "left": quantity, "by": by, "at": at}
    )
    if not created:
        return require_same(reservation, **wanted)
    # One UPDATE checks and takes, so two benches cannot both get the last piece.
    enough = StockLevel.objects.filter(id=level.id, on_hand__gte=F("reserved") + quantity)
    if not enough.update(reserved=F("reserved") + quantity):
        raise NotEnoughStock(wanted=quantity)
    outbox.record("stock.check_reorder", key=f"reserve:{id}", part_id=str(level.part_id))
    return reservation


@transaction.atomic
def release_part(*, reservation: Reservation) -> None:
    """Let go what is still set aside. A second call finds nothing and changes nothing."""
    StockLevel.objects.select_for_update().get(id=reservation.level_id)
    reservation.refresh_from_db(fields=["left"])
    if reservation.left:
        levels.release(reservation=reservation, pieces=reservation.left)
        reservation.refresh_from_db(fields=["left"])
