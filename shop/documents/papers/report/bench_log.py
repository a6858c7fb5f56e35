"""What stands in the bench log without a step, and the findings from everywhere."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.documents.papers.common import Context
from shop.documents.papers.report.entries import made, reading_row
from shop.jobs.models import Entry

FINDINGS = {
    "symptom": _("Symptom"),
    "cause": _("Cause"),
    "proof": _("Proof"),
    "other": _("Other"),
}


def findings(entries: list[Entry]) -> list[Context]:
    """Findings and notes: symptom, cause, proof, in the order of their records."""
    return [
        {
            "kind": FINDINGS.get(entry.value.get("finding", "other"), FINDINGS["other"]),
            "text": entry.value.get("text", ""),
            **made(entry),
        }
        for entry in entries
        if entry.kind in {Entry.Kind.FINDING, Entry.Kind.NOTE} and entry.value.get("text")
    ]


def bench_log(entries: list[Entry]) -> list[Context]:
    """Readings that were taken beside any worksheet."""
    return [
        reading_row(entry, entry.value.get("name") or str(Entry.Kind.READING.label))
        for entry in entries
        if entry.kind == Entry.Kind.READING and entry.worksheet_id is None
    ]
