"""Reads of entries: what was recorded, what stands, whether a chain holds."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet

from shop.jobs.models import Entry, RecordHead
from shop.jobs.record.chain import START, Broken, first_break


def entries_of(record: UUID) -> QuerySet[Entry]:
    """Everything ever recorded in one record, in order."""
    return Entry.objects.filter(record=record).select_related("made_by").order_by("seq")


def entries_newer_than(known: dict[UUID, int]) -> QuerySet[Entry]:
    """Entries that somebody who knows each record up to a `seq` has not seen."""
    wanted = Q(pk__in=[])
    for record, seq in known.items():
        wanted |= Q(record=record, seq__gt=seq)
    return Entry.objects.filter(wanted).select_related("made_by").order_by("record", "seq")


def effective_entries(record: UUID) -> list[tuple[Entry, list[Entry]]]:
    """What stands in a record, each with the entries it replaced, oldest first.

    Everything without a step stands until it is replaced; of a step, photos and notes stand side
    by side, and of everything else the last.
    """
    entries = list(entries_of(record))
    by_id = {entry.id: entry for entry in entries}
    replaced = {entry.replaces_id for entry in entries}
    standing = [entry for entry in entries if entry.id not in replaced]
    last = {entry.step: entry.id for entry in standing if is_single(entry)}
    return [
        (entry, _originals(entry, by_id))
        for entry in standing
        if not is_single(entry) or last[entry.step] == entry.id
    ]


def is_single(entry: Entry) -> bool:
    """Whether a step can only have one of these standing."""
    many = (Entry.Kind.PHOTO, Entry.Kind.NOTE, Entry.Kind.FINDING)
    return bool(entry.step) and entry.kind not in many


def _originals(entry: Entry, by_id: dict[UUID, Entry]) -> list[Entry]:
    found: list[Entry] = []
    while entry.replaces_id:
        entry = by_id[entry.replaces_id]
        found.insert(0, entry)
    return found


def heads_of(records: Iterable[UUID]) -> dict[UUID, int]:
    """The last `seq` of each record."""
    rows = RecordHead.objects.filter(record__in=list(records))
    return dict(rows.values_list("record", "last_seq"))


def entry_row(entry: Entry) -> dict[str, Any]:
    """An entry as it goes over the wire."""
    return {
        "id": entry.id,
        "record": entry.record,
        "repair": entry.repair_id,
        "worksheet": entry.worksheet_id,
        "step": entry.step or None,
        "kind": entry.kind,
        "value": entry.value,
        "replaces": entry.replaces_id,
        "reason": entry.reason,
        "made_by": entry.made_by_id,
        "made_by_name": str(entry.made_by),
        "device_id": entry.device_id,
        "made_at": entry.made_at,
        "received_at": entry.received_at,
        "seq": entry.seq,
        "verdict": entry.verdict or None,
        "hash": entry.hash,
    }


def first_break_of(record: UUID) -> Broken | None:
    """Where the chain of a record does not hold; None if it does."""
    head = RecordHead.objects.filter(record=record).first()
    kept = (head.last_seq, head.last_hash) if head else (0, START)
    return first_break(record, Entry.objects.filter(record=record).order_by("seq"), kept)
