"""Reads of papers."""

from __future__ import annotations

from uuid import UUID

from django.db.models import QuerySet

from shop.benches.models import Meter
from shop.core.models import OutboxEvent
from shop.documents.models import Document
from shop.repairs.models import Repair
from shop.stock.models import Bin, Part
from shop.units.models import Piece, Shelf, Unit


def documents_of(repair: Repair) -> QuerySet[Document]:
    """The papers of a repair, newest first."""
    return repair.documents.order_by("-requested_at", "-id")


def latest_issued(repair: Repair, kind: str) -> Document | None:
    """The newest paper of a kind whose PDF is there."""
    return documents_of(repair).filter(kind=kind, issued_at__isnull=False).first()


def state_of(document: Document) -> str:
    """`ready`, `drawing`, or `failed` when the work on it was given up."""
    if document.issued_at:
        return "ready"
    cause = (document.key or "").partition(":")[2]
    given_up = OutboxEvent.objects.filter(
        kind__startswith="documents.", dead_at__isnull=False, payload__cause_id=cause
    )
    return "failed" if cause and given_up.exists() else "drawing"


def names_of(codes: list[str]) -> dict[str, str]:
    """What hangs on each code, by name, in the order of the codes; one that is unknown is left out.

    A number of queries that does not depend on how many there are.
    """
    found: dict[str, str] = {}
    for model in (Bin, Part, Meter, Shelf, Piece):
        found.update(model.objects.filter(code__in=codes).values_list("code", "name"))
    for code, make, name in Unit.objects.filter(code__in=codes).values_list(
        "code", "make", "model"
    ):
        found[code] = f"{make} {name}"
    return {code: found[code] for code in codes if code in found}


def document_with(id: UUID) -> Document | None:
    return Document.objects.filter(id=id).first()
