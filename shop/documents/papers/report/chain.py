"""The end of each record's chain, and every correction: so that a later change can be seen."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.documents.papers.common import Context
from shop.documents.papers.report.entries import made, reading_text
from shop.jobs.models import Entry, RecordHead, Worksheet
from shop.repairs.models import Repair


def heads(repair: Repair, sheets: list[Worksheet]) -> list[Context]:
    """Number of entries and SHA-256 at the end of each record."""
    names = {repair.id: _("Bench log")}
    names |= {sheet.id: sheet.revision.template.title for sheet in sheets}
    rows = RecordHead.objects.filter(record__in=names, last_seq__gt=0).in_bulk()
    return [
        {"name": name, "count": rows[id].last_seq, "hash": rows[id].last_hash}
        for id, name in names.items()
        if id in rows
    ]


def amendments(repair: Repair) -> list[Context]:
    """Each entry that replaced another: what stood before, what stands now, who, when, why."""
    rows = repair.entries.filter(replaces__isnull=False).select_related("replaces", "made_by")
    return [
        {
            "before": _shown(entry.replaces),
            "now": _shown(entry),
            "why": entry.reason,
            **made(entry),
        }
        for entry in rows.order_by("received_at", "id")
    ]


def _shown(entry: Entry | None) -> str:
    if entry is None:
        return ""
    if entry.kind == Entry.Kind.READING:
        return reading_text(entry)
    words = entry.value.get("text") or entry.value.get("choice") or entry.value.get("reason")
    return f"{Entry.Kind(entry.kind).label}: {words}" if words else str(entry.get_kind_display())
