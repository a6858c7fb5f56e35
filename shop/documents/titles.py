"""What each paper is called."""

from __future__ import annotations

from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from shop.documents.models import Document

Kind = Document.Kind
TITLES: dict[str, str] = {
    Kind.RECEIPT: gettext_noop("Receipt for repair %(number)s"),
    Kind.TAG: gettext_noop("Tag for repair %(number)s"),
    Kind.ESTIMATE: gettext_noop("Estimate for repair %(number)s"),
    Kind.TEST_REPORT: gettext_noop("Test report for repair %(number)s"),
    Kind.INVOICE: gettext_noop("Invoice %(number)s"),
    Kind.ORDER: gettext_noop("Purchase order %(number)s"),
    Kind.LABELS: gettext_noop("Labels, %(number)s in all"),
    Kind.PLATE_STICKER: gettext_noop("Rating plate sticker for repair %(number)s"),
}


def title_of(kind: str, number: int) -> str:
    """The title in the language now active."""
    return _(TITLES[kind]) % {"number": number}
