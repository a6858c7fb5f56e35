"""What handing back requires of billing."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.billing.amounts import money_text
from shop.billing.selectors import account
from shop.core.selectors import the_shop
from shop.repairs import stages
from shop.repairs.models import Repair


@stages.requirement("paid_or_agreed")
def paid_or_agreed(repair: Repair) -> str | None:
    """What is due is paid, or waived with a reason."""
    due = account(repair)["due_minor"]
    if due <= 0:
        return None
    amount = money_text(due, the_shop().currency)
    return _("Still to be paid: %(amount)s. Take the payment, or waive it with a reason.") % {
        "amount": amount
    }
