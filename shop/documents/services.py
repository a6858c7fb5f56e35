"""Writes of papers: one row per cause, one PDF per row, drawn outside any transaction."""

from __future__ import annotations

import hashlib
from typing import Any
from uuid import UUID

from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from shop.billing.models import Estimate, Invoice
from shop.core import outbox
from shop.core.errors import BadField
from shop.core.ids import new_id
from shop.core.models import Person
from shop.core.selectors import public_url, the_shop
from shop.documents.models import Document
from shop.documents.papers import draw_paper
from shop.documents.papers.plate_sticker import converted
from shop.documents.selectors import names_of
from shop.documents.titles import title_of
from shop.repairs.models import Repair
from shop.stock.models import PurchaseOrder

Kind = Document.Kind
# These hang on the unit and are read in the shop, whatever the customer speaks.
FOR_THE_SHOP = {Kind.TAG, Kind.PLATE_STICKER}


@outbox.handles("documents.issue")
def issue(*, kind: str, repair_id: str | UUID, cause_id: str | UUID) -> Document:
    """Issue a paper of a repair. A second run with the same cause finds it and does nothing."""
    repair = Repair.objects.select_related("customer").get(id=repair_id)
    return _drawn(_row_of_repair(kind, repair, str(cause_id), by=None))


@outbox.handles("documents.issue_test_report")
def issue_test_report(*, repair_id: str | UUID, cause_id: str | UUID) -> Document:
    """Issue the test report of a repair as its records stand now."""
    return issue(kind=Kind.TEST_REPORT, repair_id=repair_id, cause_id=cause_id)


@outbox.handles("documents.issue_estimate")
def issue_estimate(*, estimate_id: str | UUID) -> Document:
    """Issue the paper of an estimate."""
    estimate = Estimate.objects.select_related("repair__customer").get(id=estimate_id)
    repair = estimate.repair
    return _drawn(
        _row(
            Kind.ESTIMATE,
            str(estimate_id),
            number=repair.number,
            language=repair.customer.language,
            repair=repair,
            estimate=estimate,
        )
    )


@outbox.handles("documents.issue_invoice")
def issue_invoice(*, invoice_id: str | UUID) -> Document:
    """Issue the paper of an invoice. A correcting one names the paper it replaces."""
    invoice = Invoice.objects.select_related("repair__customer").get(id=invoice_id)
    before = Document.objects.filter(invoice__isnull=False, invoice=invoice.replaces).first()
    return _drawn(
        _row(
            Kind.INVOICE,
            str(invoice_id),
            number=invoice.number,
            language=invoice.repair.customer.language,
            repair=invoice.repair,
            invoice=invoice,
            replaces=before,
        )
    )


@outbox.handles("documents.issue_order")
def issue_order(*, order_id: str | UUID) -> Document:
    """Issue a purchase order, in the supplier's language."""
    order = PurchaseOrder.objects.select_related("supplier").get(id=order_id)
    language = order.supplier.language
    return _drawn(
        _row(Kind.ORDER, str(order_id), number=order.number, language=language, order=order)
    )


@transaction.atomic
def ask_for_paper(*, kind: str, repair: Repair, by: Person) -> Document:
    """Ask for a receipt, tag or plate sticker anew. Its PDF follows by the outbox.

    Raises DocumentError at once for a sticker without a worked-out fuse.
    """
    if kind == Kind.PLATE_STICKER:
        converted(repair)
    cause = str(new_id())
    document = _row_of_repair(kind, repair, cause, by=by)
    outbox.record("documents.issue", kind=kind, repair_id=str(repair.id), cause_id=cause)
    return document


@transaction.atomic
def ask_for_labels(*, codes: list[str], address: bool, by: Person) -> Document:
    """Ask for a sheet of small labels. Its PDF follows by the outbox.

    Raises BadField for a code that is nobody's, and for the address while no PUBLIC_URL is set.
    """
    require_printable(codes, address=address)
    cause = str(new_id())
    wanted = {"codes": codes, "address": address}
    document = _row(
        Kind.LABELS, cause, number=len(codes), language=the_shop().language, requested_by=by,
        holds=wanted,
    )  # fmt: skip
    outbox.record("documents.issue_labels", document_id=str(document.id), cause_id=cause)
    return document


def require_printable(codes: list[str], *, address: bool) -> None:
    known = names_of(codes)
    unknown = [code for code in codes if code not in known]
    if unknown:
        reason = _("Nothing in the shop has the code %(code)s.") % {"code": unknown[0]}
        raise BadField("codes", reason, "unknown_code")
    if address and public_url() is None:
        reason = _("The address at which phones reach this shop is not set (PUBLIC_URL).")
        raise BadField("address", reason, "no_public_url")


@outbox.handles("documents.issue_labels")
def issue_labels(*, document_id: str | UUID, cause_id: str | UUID) -> Document:
    """Draw a sheet of labels. A second run finds the PDF and does nothing."""
    return _drawn(Document.objects.get(id=document_id))


def _row_of_repair(kind: str, repair: Repair, cause: str, *, by: Person | None) -> Document:
    before = repair.documents.filter(kind=kind).exclude(key=f"{kind}:{cause}")
    return _row(
        kind,
        cause,
        number=repair.number,
        repair=repair,
        requested_by=by,
        replaces=before.order_by("-requested_at", "-id").first(),
        language=the_shop().language if kind in FOR_THE_SHOP else repair.customer.language,
    )


def _row(kind: str, cause: str, *, number: int, language: str, **fields: Any) -> Document:
    """The row of this cause, made once: the constraint on `key` has the last word."""
    with translation.override(language):
        title = title_of(kind, number)
    wanted = {"kind": kind, "title": title, "language": language, "requested_at": timezone.now()}
    document, _made = Document.objects.get_or_create(
        key=f"{kind}:{cause}", defaults={**wanted, **fields}
    )
    return document


def _drawn(document: Document) -> Document:
    """Draw the PDF unless it is there, keep it, and clear away what an ended run left behind.

    Each run writes a file of its own name, so a half-written one is never taken for the paper.
    """
    if not document.file:
        _keep_unless_overtaken(document, draw_paper(document))
        document.refresh_from_db(fields=["file", "sha256", "issued_at"])
    _clear_others(document)
    return document


def _keep_unless_overtaken(document: Document, pdf: bytes) -> None:
    try:
        mine = default_storage.save(f"{_folder(document)}/{new_id()}.pdf", ContentFile(pdf))
    except FileNotFoundError:
        # Another run may have been first and have cleared ours away while it was being written.
        if not Document.objects.filter(id=document.id).exclude(file="").exists():
            raise
        return
    Document.objects.filter(id=document.id, file="").update(
        file=mine, sha256=hashlib.sha256(pdf).hexdigest(), issued_at=timezone.now()
    )


def _folder(document: Document) -> str:
    return f"documents/{document.id}"


def _clear_others(document: Document) -> None:
    for name in default_storage.listdir(_folder(document))[1]:
        if document.file.name != f"{_folder(document)}/{name}":
            default_storage.delete(f"{_folder(document)}/{name}")
