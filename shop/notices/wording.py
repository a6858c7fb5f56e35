"""What the messages say, in the language now active."""

from __future__ import annotations

from typing import Any

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from shop.billing.amounts import money_text
from shop.billing.selectors import account, current_estimate
from shop.core.selectors import public_url, the_shop
from shop.notices.models import Notice
from shop.repairs.models import Repair
from shop.repairs.services import issue_status_link
from shop.stock.models import PurchaseOrder

Kind = Notice.Kind
SUBJECTS: dict[str, str] = {
    Kind.BOOKED_IN: gettext_noop("Your %(unit)s is with us (repair %(number)s)"),
    Kind.ESTIMATE: gettext_noop("What the repair of your %(unit)s will cost (%(number)s)"),
    Kind.READY: gettext_noop("Your %(unit)s is ready to fetch (repair %(number)s)"),
    Kind.LEAVES_UNREPAIRED: gettext_noop(
        "Your %(unit)s can be fetched, unrepaired (repair %(number)s)"
    ),
}


def first_name(name: str) -> str:
    """How a message greets: the first word of the name as it was given."""
    return name.split()[0] if name.split() else name


def to_customer(kind: str, repair: Repair, *, has_paper: bool) -> tuple[str, str]:
    """Subject and text of a message to the customer. Without PUBLIC_URL it has no link."""
    unit = f"{repair.unit.make} {repair.unit.model}"
    subject = _(SUBJECTS[kind]) % {"unit": unit, "number": repair.number}
    body = render_to_string(
        f"notices/{kind}.txt", {**_facts(repair), "unit": unit, "has_paper": has_paper}
    )
    return subject[:200], body.strip() + "\n"


def _facts(repair: Repair) -> dict[str, Any]:
    shop = the_shop()
    due = account(repair)["due_minor"]
    estimate = current_estimate(repair)
    return {
        "shop": shop,
        "repair": repair,
        "first_name": first_name(repair.customer.name),
        "link": issue_status_link(repair=repair) if public_url() else None,
        "due": money_text(due, shop.currency) if due > 0 else None,
        "cost": money_text(estimate.total_minor, shop.currency) if estimate else None,
        "pieces": [piece.name for piece in repair.unit.pieces.filter(state="here")],
    }


def to_supplier(order: PurchaseOrder) -> tuple[str, str]:
    """Subject and text of a message with an order."""
    shop = the_shop()
    subject = _("Order %(number)s from %(shop)s") % {"number": order.number, "shop": shop.name}
    lines = order.lines.select_related("part").order_by("part__name")
    body = render_to_string("notices/order.txt", {"order": order, "shop": shop, "lines": lines})
    return subject[:200], body.strip() + "\n"
