"""Papers with lines and a total: estimate, invoice, purchase order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.utils import formats
from django.utils.translation import gettext as _

from shop.billing.amounts import money_text
from shop.billing.models import Estimate, Invoice
from shop.billing.selectors import Line, as_lines
from shop.core.selectors import the_shop
from shop.documents.models import Document
from shop.documents.papers.common import Context, heading, local_time
from shop.repairs.models import Repair


def estimate_context(document: Document) -> Context:
    estimate = document.estimate
    assert estimate is not None  # noqa: S101  # an estimate's paper is issued with one
    currency = the_shop().currency
    return {
        **heading(document),
        **_for_customer(estimate.repair),
        **_lines(as_lines(estimate.lines), estimate, currency),
        "note": estimate.note,
        "closing": _(
            "Work begins when you have agreed: on the status page, by phone or at the desk. If "
            "more turns out to be needed, we ask again."
        ),
    }


def invoice_context(document: Document) -> Context:
    invoice = document.invoice
    assert invoice is not None  # noqa: S101  # an invoice's paper is issued with one
    before = invoice.replaces
    return {
        **heading(document),
        **_for_customer(invoice.repair),
        **_lines(as_lines(invoice.lines), invoice, invoice.currency),
        "issued_words": _("Issued %(at)s") % {"at": local_time(invoice.issued_at)},
        "note": _("Replaces invoice %(number)s.") % {"number": before.number} if before else "",
        "tax_percent": formats.number_format(invoice.tax_percent.normalize()),
    }


def order_context(document: Document) -> Context:
    order = document.order
    assert order is not None  # noqa: S101  # an order's paper is issued with one
    currency = the_shop().currency
    rows = list(order.lines.select_related("part").order_by("part__name"))
    return {
        **heading(document),
        "supplier": order.supplier,
        "rows": [
            {
                "name": row.part.name,
                "order_code": row.part.order_code,
                "quantity": row.quantity,
                "price": money_text(row.cost_minor, currency),
                "total": money_text(row.quantity * row.cost_minor, currency),
            }
            for row in rows
        ],
        "total": money_text(sum(row.quantity * row.cost_minor for row in rows), currency),
        "approved_by": str(order.approved_by) if order.approved_by else "",
    }


def _for_customer(repair: Repair) -> Context:
    return {
        "customer": repair.customer,
        "unit": repair.unit,
        "number": repair.number,
        "brought_at": local_time(repair.booked_in_at),
    }


def _lines(lines: Sequence[Line], bill: Estimate | Invoice, currency: str) -> Context:
    rows: list[dict[str, Any]] = [
        {
            "text": row["text"],
            "quantity": row["quantity"],
            "price": money_text(row["price_minor"], currency),
            "total": money_text(row["total_minor"], currency),
        }
        for row in lines
    ]
    return {
        "rows": rows,
        "net": money_text(bill.net_minor, currency),
        "tax": money_text(bill.tax_minor, currency),
        "total": money_text(bill.total_minor, currency),
    }
