"""From a document's row to its PDF."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from django.utils import translation

from shop.documents.models import Document
from shop.documents.papers import bills, labels, plate_sticker, receipt, report, tag
from shop.documents.papers.common import Context
from shop.documents.pdf import draw

Kind = Document.Kind


class Paper(NamedTuple):
    """How one kind is drawn. Sheets that people read are tagged for screen readers."""

    template: str
    context: Callable[[Document], Context]
    variant: str | None = "pdf/ua-1"


PAPERS: dict[str, Paper] = {
    Kind.RECEIPT: Paper("documents/receipt.html", receipt.context),
    Kind.TAG: Paper("documents/tag.html", tag.context, variant=None),
    Kind.ESTIMATE: Paper("documents/bill.html", bills.estimate_context),
    Kind.TEST_REPORT: Paper("documents/test_report.html", report.context),
    Kind.INVOICE: Paper("documents/bill.html", bills.invoice_context),
    Kind.ORDER: Paper("documents/order.html", bills.order_context),
    Kind.LABELS: Paper("documents/labels.html", labels.context, variant=None),
    Kind.PLATE_STICKER: Paper("documents/plate_sticker.html", plate_sticker.context, variant=None),
}


def draw_paper(document: Document) -> bytes:
    """The PDF of a document, in its language."""
    paper = PAPERS[document.kind]
    with translation.override(document.language):
        return draw(paper.template, paper.context(document), variant=paper.variant)
