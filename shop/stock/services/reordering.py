"""The draft order that grows by itself as parts run low."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction
from django.utils import timezone

from shop.calc import reorder
from shop.core import outbox
from shop.core.services import next_number
from shop.stock.models import OrderLine, Part, PurchaseOrder, Supplier
from shop.stock.selectors import inventory_position


@outbox.handles("stock.check_reorder")
@transaction.atomic
def check_reorder(*, part_id: str) -> None:
    """Put a part that runs low into its supplier's one draft order, up to its upper level.

    The quantity is set, not added: repeats, and any number of takes of one part, come to one line.
    """
    part = Part.objects.get(id=UUID(part_id))
    # One at a time per supplier, so that two workers do not both begin a draft.
    Supplier.objects.select_for_update().get(id=part.supplier_id)
    line = OrderLine.objects.filter(part=part, order__stage=PurchaseOrder.Stage.DRAFT).first()
    position = inventory_position(part)
    drafted = line.quantity if line else 0
    is_due = reorder.is_order_due(position + drafted, part.reorder_level)
    if part.order_up_to == 0 or not is_due:  # an upper level of none: never ordered by itself
        return
    wanted = reorder.quantity_to_order(position, part.order_up_to)
    if line is None and wanted:
        _add_line(part, wanted)
    elif line is not None and wanted > line.quantity:
        OrderLine.objects.filter(id=line.id).update(quantity=wanted)


def _add_line(part: Part, quantity: int) -> None:
    order = PurchaseOrder.objects.filter(
        supplier_id=part.supplier_id, stage=PurchaseOrder.Stage.DRAFT
    ).first()
    if order is None:
        order = PurchaseOrder.objects.create(
            number=next_number("order"),
            supplier_id=part.supplier_id,
            created_at=timezone.now(),
        )
    OrderLine.objects.create(order=order, part=part, quantity=quantity, cost_minor=part.cost_minor)
