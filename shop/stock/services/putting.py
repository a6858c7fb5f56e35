"""Pieces that come into a bin, go back into it, or leave it for good."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import TypedDict
from uuid import UUID, uuid5

from django.db import transaction
from django.db.models import F
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.repairs.models import Repair
from shop.stock.errors import NotEnoughStock, NotTaken, OrderStageNotAllowed
from shop.stock.models import Bin, Move, OrderLine, Part, Place, PurchaseOrder, StockLevel
from shop.stock.selectors import pieces_in_repair, template_taken_for, usual_bin
from shop.stock.services import levels


class ReceivedLine(TypedDict):
    part: Part
    quantity: int
    bin: Bin


@transaction.atomic
def put_in(
    *,
    id: UUID,
    part: Part,
    bin: Bin,
    quantity: int,
    by: Person,
    at: datetime,
    reason: str = "",
    order: PurchaseOrder | None = None,
) -> Move:
    """Pieces from a supplier go into a bin. A repeat of the id returns the first move."""
    content = {"part": part, "bin": bin, "quantity": quantity, "order": order}
    way = {"from_place": Place.SUPPLIER, "to_place": Place.BIN}
    more = {"cost_minor": part.cost_minor, "by": by, "at": at, "reason": reason}
    move, created = Move.objects.get_or_create(id=id, defaults={**content, **way, **more})
    if not created:
        return require_same(move, **content, **way)
    levels.add_to_level(part=part, bin=bin, quantity=quantity)
    return move


@transaction.atomic
def return_part(
    *,
    id: UUID,
    part: Part,
    quantity: int,
    repair: Repair,
    by: Person,
    at: datetime,
    bin: Bin | None = None,
    reason: str = "",
) -> Move:
    """Pieces taken for a repair go back, by default into the bin they came from.

    A repeat of the id returns the first move. Raises NotTaken if the repair holds fewer.
    """
    Part.objects.select_for_update().get(id=part.id)  # two returns must not both count one piece
    content = {"part": part, "quantity": quantity, "repair": repair}
    if first := Move.objects.filter(id=id).first():
        return require_same(first, **content, from_place=Place.REPAIR, to_place=Place.BIN)
    if pieces_in_repair(part=part, repair=repair) < quantity:
        raise NotTaken(wanted=quantity)
    back_to = bin or usual_bin(part=part, repair=repair)
    levels.add_to_level(part=part, bin=back_to, quantity=quantity)
    return Move.objects.create(
        id=id,
        **content,
        from_place=Place.REPAIR,
        to_place=Place.BIN,
        bin=back_to,
        cost_minor=part.cost_minor,
        price_minor=part.price_minor,
        template=template_taken_for(part=part, repair=repair),
        by=by,
        at=at,
        reason=reason,
    )


@transaction.atomic
def scrap_part(
    *, id: UUID, part: Part, bin: Bin, quantity: int, by: Person, at: datetime, reason: str = ""
) -> Move:
    """Free pieces of a bin are thrown away. Raises NotEnoughStock, Conflict."""
    content = {"part": part, "bin": bin, "quantity": quantity}
    way = {"from_place": Place.BIN, "to_place": Place.SCRAP}
    more = {"cost_minor": part.cost_minor, "by": by, "at": at, "reason": reason}
    move, created = Move.objects.get_or_create(id=id, defaults={**content, **way, **more})
    if not created:
        return require_same(move, **content, **way)
    level = StockLevel.objects.filter(part=part, bin=bin).first()
    if level is None or not levels.take_free(level=level, quantity=quantity):
        raise NotEnoughStock(wanted=quantity)
    return move


@transaction.atomic
def receive_order(
    *, id: UUID, order: PurchaseOrder, lines: Iterable[ReceivedLine], by: Person, at: datetime
) -> PurchaseOrder:
    """Book what arrived. The order is received once every line is complete.

    A repeat of the id changes nothing: each line's move has an id made from it.
    Raises OrderStageNotAllowed, BadField for a part the order does not name.
    """
    locked = PurchaseOrder.objects.select_for_update().get(id=order.id)
    wanted = {line.part_id: line for line in locked.lines.all()}
    for place, line in enumerate(lines):
        if line["part"].id not in wanted:
            raise BadField(f"lines[{place}].part", _("The order does not name this part."))
        _receive_line(id, locked, line, by, at)
    missing = OrderLine.objects.filter(order=locked, received__lt=F("quantity"))
    if not missing.exists():
        arrived = PurchaseOrder.objects.filter(id=locked.id, received_at=None)
        arrived.update(stage=PurchaseOrder.Stage.RECEIVED, received_at=at)
    locked.refresh_from_db()
    return locked


def _receive_line(
    id: UUID, order: PurchaseOrder, line: ReceivedLine, by: Person, at: datetime
) -> None:
    part, bin, quantity = line["part"], line["bin"], line["quantity"]
    move_id = uuid5(id, f"{part.code} {bin.code}")
    if first := Move.objects.filter(id=move_id).first():
        require_same(first, part=part, bin=bin, quantity=quantity, order=order)
        return
    if order.stage not in {PurchaseOrder.Stage.APPROVED, PurchaseOrder.Stage.SENT}:
        raise OrderStageNotAllowed(_("Only an approved or sent order can arrive."))
    put_in(id=move_id, part=part, bin=bin, quantity=quantity, by=by, at=at, order=order)
    received = OrderLine.objects.filter(order=order, part=part)
    received.update(received=F("received") + quantity)
