"""Messages: one row per cause, a fixed Message-ID, mail outside any transaction."""

from __future__ import annotations

from email.utils import parseaddr
from typing import Any
from uuid import UUID

from django.conf import settings
from django.core.mail import EmailMessage
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from shop.core import outbox
from shop.core.ids import new_id
from shop.core.selectors import the_shop
from shop.documents import services as papers
from shop.documents.models import Document
from shop.notices import wording
from shop.notices.models import Notice
from shop.repairs.models import Repair
from shop.stock.models import PurchaseOrder
from shop.stock.services import mark_order_sent

Kind = Notice.Kind


@outbox.handles("notices.tell_customer")
def tell_customer(*, kind: str, repair_id: str | UUID, cause_id: str | UUID) -> Notice:
    """Write to the customer of a repair, in their language. The same cause writes once.

    Without an address the reason is kept for the desk. Mail errors are raised and tried again,
    with the same Message-ID.
    """
    repair = Repair.objects.select_related("customer", "unit").get(id=repair_id)
    key = f"{kind}:{cause_id}"
    known = Notice.objects.filter(key=key).first()
    if known and (known.sent_at or known.not_sent_why):
        return known
    paper = _paper_for(kind, repair, str(cause_id))
    language = repair.customer.language
    with translation.override(language):
        subject, body = wording.to_customer(kind, repair, has_paper=paper is not None)
    return _sent(
        _written(
            key,
            kind=kind,
            repair=repair,
            document=paper,
            to=repair.customer.email,
            language=language,
            subject=subject,
            body=body,
        )
    )


def _paper_for(kind: str, repair: Repair, cause: str) -> Document | None:
    """The paper that goes along, drawn first if nobody has: both stand a repeat."""
    match kind:
        case Kind.BOOKED_IN:
            return papers.issue(kind="receipt", repair_id=repair.id, cause_id=cause)
        case Kind.ESTIMATE:
            return papers.issue_estimate(estimate_id=cause)
        case Kind.READY:
            return papers.issue_test_report(repair_id=repair.id, cause_id=cause)
    return None


@outbox.handles("notices.send_order")
def send_order(*, order_id: str | UUID) -> Notice | None:
    """Mail an approved order to its supplier. One that was dropped meanwhile is not sent."""
    order = PurchaseOrder.objects.select_related("supplier").get(id=order_id)
    if order.stage not in {PurchaseOrder.Stage.APPROVED, PurchaseOrder.Stage.SENT}:
        return None
    language = order.supplier.language
    with translation.override(language):
        subject, body = wording.to_supplier(order)
    notice = _sent(
        _written(
            f"order:{order.id}",
            kind=Kind.ORDER,
            order=order,
            document=papers.issue_order(order_id=order.id),
            to=order.supplier.email,
            language=language,
            subject=subject,
            body=body,
        )
    )
    if notice.sent_at:
        mark_order_sent(order_id=order.id, at=notice.sent_at)
    return notice


def _written(key: str, **fields: Any) -> Notice:
    """The row of this cause, made once: the constraint on `key` has the last word."""
    id = new_id()
    domain = parseaddr(settings.DEFAULT_FROM_EMAIL)[1].rpartition("@")[2] or "localhost"
    fresh = {"id": id, "message_id": f"<{id}@{domain}>", "created_at": timezone.now(), **fields}
    notice, _created = Notice.objects.get_or_create(key=key, defaults=fresh)
    return notice


def _sent(notice: Notice) -> Notice:
    if notice.sent_at or notice.not_sent_why:
        return notice
    if not notice.to:
        return _not_sent(notice)
    _message(notice).send()
    # A worker that ends right here sends once more, and the Message-ID tells the reader so.
    Notice.objects.filter(id=notice.id, sent_at=None).update(sent_at=timezone.now())
    notice.refresh_from_db(fields=["sent_at"])
    return notice


def _not_sent(notice: Notice) -> Notice:
    with translation.override(the_shop().language):
        why = _("No email address is known: tell them by phone.")
    Notice.objects.filter(id=notice.id).update(not_sent_why=why)
    notice.refresh_from_db(fields=["not_sent_why"])
    return notice


def _message(notice: Notice) -> EmailMessage:
    shop = the_shop()
    mail = EmailMessage(
        subject=notice.subject,
        body=notice.body,
        to=[notice.to],
        reply_to=[shop.email] if shop.email else None,
        # RFC 3834: no out-of-office note answers this.
        headers={"Message-ID": notice.message_id, "Auto-Submitted": "auto-generated"},
    )
    if notice.document and notice.document.file:
        with notice.document.file.open() as file:
            name = f"{notice.document.kind.replace('_', '-')}.pdf"
            mail.attach(name, file.read(), "application/pdf")
    return mail
