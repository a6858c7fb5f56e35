"""Invoices: numbered without gaps, never changed, corrected by a new one."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from shop.billing.errors import NothingToInvoice
from shop.billing.models import Invoice
from shop.billing.selectors import current_invoice, lines_now, totals_of
from shop.core import outbox
from shop.core.models import Person
from shop.core.selectors import the_shop
from shop.core.services import next_number
from shop.repairs.models import Repair


@transaction.atomic
def issue_invoice(*, repair: Repair, by: Person) -> Invoice:
    """Invoice what the repair costs as things stand.

    If nothing has changed since the last invoice, that one is the answer; else a new one replaces
    it. Raises NothingToInvoice.
    """
    Repair.objects.select_for_update().only("id").get(id=repair.id)
    lines, before = lines_now(repair), current_invoice(repair)
    if before and before.lines == lines:
        return before
    if not lines:
        raise NothingToInvoice()
    # The number comes last: its row is locked until the end of the transaction.
    number = next_number("invoice")
    invoice = Invoice.objects.create(number=number, replaces=before, **_content(repair, lines, by))
    outbox.record(
        "documents.issue_invoice", key=f"invoice-paper:{invoice.id}", invoice_id=str(invoice.id)
    )
    return invoice


def _content(repair: Repair, lines: list[Any], by: Person) -> dict[str, Any]:
    shop, totals = the_shop(), totals_of(lines)
    return {
        "repair": repair,
        "lines": lines,
        "net_minor": totals.net_minor,
        "tax_minor": totals.tax_minor,
        "total_minor": totals.total_minor,
        "tax_percent": shop.tax_percent,
        "currency": shop.currency,
        "issued_at": timezone.now(),
        "issued_by": by,
    }
