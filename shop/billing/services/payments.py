"""Money taken, given back, or let go."""

from __future__ import annotations

from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.billing.models import Payment
from shop.core.errors import BadField
from shop.core.idempotency import require_same
from shop.core.models import Person
from shop.repairs.models import Repair

How = Payment.How


@transaction.atomic
def take_payment(
    *, id: UUID, repair: Repair, amount_minor: int, how: str, reason: str = "", by: Person
) -> Payment:
    """Write down money taken (or given back, below zero). A repeat with the id returns the first.

    Raises BadField (no amount, not a way to pay, waived without a reason), Conflict.
    """
    reason = reason.strip()[:200]
    wanted = {"amount_minor": amount_minor, "how": how, "reason": reason}
    _require_usable(amount_minor, how, reason)
    payment, created = Payment.objects.get_or_create(
        id=id, defaults={"repair": repair, "taken_by": by, "taken_at": timezone.now(), **wanted}
    )
    return payment if created else require_same(payment, repair_id=repair.id, **wanted)


def _require_usable(amount_minor: int, how: str, reason: str) -> None:
    if amount_minor == 0:
        raise BadField("amount_minor", _("An amount of nothing is no payment."), "zero")
    if how not in How.values:
        raise BadField("how", _("This is no way to pay here."), "unknown_way")
    if how == How.WAIVED and not reason:
        raise BadField("reason", _("Say why it is waived."), "blank")
