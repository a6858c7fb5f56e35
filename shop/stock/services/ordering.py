"""The manager's decision on a draft order, and its way to the supplier."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.utils.translation import gettext as _

from shop.core import outbox
from shop.core.errors import NotAllowed
from shop.core.models import Person, Role
from shop.stock.errors import OrderEmpty, OrderStageNotAllowed
from shop.stock.models import PurchaseOrder

Stage = PurchaseOrder.Stage


@transaction.atomic
def approve_order(*, order: PurchaseOrder, by: Person, at: datetime) -> PurchaseOrder:
    """Release a draft: sending it in the background draws its paper and mails it.

    A repeat finds it approved and changes nothing. Raises NotAllowed, OrderEmpty,
    OrderStageNotAllowed.
    """
    _require_manager(by)
    locked = PurchaseOrder.objects.select_for_update().get(id=order.id)
    if locked.stage in {Stage.APPROVED, Stage.SENT}:
        return locked
    if locked.stage != Stage.DRAFT:
        raise OrderStageNotAllowed(_("Only a draft can be approved."))
    if not locked.lines.exists():
        raise OrderEmpty()
    locked.stage, locked.approved_at, locked.approved_by = Stage.APPROVED, at, by
    locked.save(update_fields=["stage", "approved_at", "approved_by"])
    outbox.record("notices.send_order", key=f"send_order:{locked.id}", order_id=str(locked.id))
    return locked


@transaction.atomic
def drop_order(*, order: PurchaseOrder, by: Person) -> PurchaseOrder:
    """Throw a draft away. Parts that stay low come back at the next take."""
    _require_manager(by)
    draft = PurchaseOrder.objects.filter(id=order.id, stage=Stage.DRAFT)
    if not draft.update(stage=Stage.DROPPED):
        raise OrderStageNotAllowed(_("Only a draft can be dropped."))
    order.refresh_from_db()
    return order


def mark_order_sent(*, order_id: UUID | str, at: datetime) -> bool:
    """The mail has gone out. A second call changes nothing and returns False."""
    approved = PurchaseOrder.objects.filter(id=order_id, stage=Stage.APPROVED)
    return bool(approved.update(stage=Stage.SENT, sent_at=at))


def _require_manager(by: Person) -> None:
    if by.role != Role.MANAGER:
        raise NotAllowed(_("Orders are the manager's."))
