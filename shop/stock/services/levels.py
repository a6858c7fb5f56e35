"""The total of one part in one bin, and the reservations that stand on it."""

from __future__ import annotations

from uuid import UUID

from django.db.models import F

from shop.stock.models import Bin, Part, Reservation, StockLevel


def add_to_level(*, part: Part, bin: Bin, quantity: int) -> None:
    """More pieces lie in the bin."""
    StockLevel.objects.get_or_create(part=part, bin=bin)
    StockLevel.objects.filter(part=part, bin=bin).update(on_hand=F("on_hand") + quantity)


def take_free(*, level: StockLevel, quantity: int) -> bool:
    """Take pieces nobody has set aside. One UPDATE checks and takes: no last piece goes twice."""
    enough = StockLevel.objects.filter(id=level.id, on_hand__gte=F("reserved") + quantity)
    return bool(enough.update(on_hand=F("on_hand") - quantity))


def take_what_is_there(*, level: StockLevel, quantity: int) -> int:
    """Take up to `quantity`, those set aside included; returns how many the books lacked."""
    locked = StockLevel.objects.select_for_update().get(id=level.id)
    taken = min(locked.on_hand, quantity)
    lower_level(level=locked, to=locked.on_hand - taken)
    return quantity - taken


def lower_level(*, level: StockLevel, to: int) -> None:
    """Set a locked level lower. Reservations it can no longer hold are let go, newest first."""
    if level.reserved > to:
        level.reserved -= _let_go(level, level.reserved - to)
    level.on_hand = to
    level.save(update_fields=["on_hand", "reserved"])


def _let_go(level: StockLevel, pieces: int) -> int:
    """Shrink open reservations of a locked level by `pieces`; returns how many were let go."""
    missing = pieces
    for open_one in Reservation.objects.filter(level=level, left__gt=0).order_by("-at", "-id"):
        step = min(open_one.left, missing)
        Reservation.objects.filter(id=open_one.id).update(left=F("left") - step)
        missing -= step
        if not missing:
            break
    return pieces - missing


def use_reservations(*, level: StockLevel, repair_id: UUID, quantity: int) -> None:
    """Pieces set aside for this repair become free, up to `quantity`, just before it takes them."""
    StockLevel.objects.select_for_update().get(id=level.id)
    for own in Reservation.objects.filter(level=level, repair_id=repair_id, left__gt=0):
        step = min(own.left, quantity)
        release(reservation=own, pieces=step)
        quantity -= step
        if not quantity:
            return


def release(*, reservation: Reservation, pieces: int) -> bool:
    """Let pieces of one reservation go, if it still holds as many."""
    held = Reservation.objects.filter(id=reservation.id, left__gte=pieces)
    if not held.update(left=F("left") - pieces):
        return False
    level = StockLevel.objects.filter(id=reservation.level_id)
    return bool(level.update(reserved=F("reserved") - pieces))
