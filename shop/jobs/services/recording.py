"""Adding entries to one record, in one transaction, with the record's head locked."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction

from shop.core import outbox
from shop.jobs.errors import BadEntry
from shop.jobs.models import Entry, RecordHead, Worksheet
from shop.jobs.record.ledger import Ledger
from shop.jobs.services.mentions import keep_mentions
from shop.repairs.models import Repair
from shop.stock.models import Bin, Move
from shop.stock.services import return_part, take_part


@contextmanager
def open_ledger(record: UUID, *, is_worksheet: bool, now: datetime) -> Iterator[Ledger]:
    """A record to add to. What was added is written, and the stage follows, when it closes.

    Raises BadEntry if there is no such worksheet or repair.
    """
    with transaction.atomic():
        ledger = _locked(record, is_worksheet)
        yield ledger
        if ledger.added:
            _write(ledger, now)


def _locked(record: UUID, is_worksheet: bool) -> Ledger:
    if is_worksheet:
        head = RecordHead.objects.select_for_update().filter(record=record).first()
        # Read after the lock: it may have been stopped while we waited.
        found = Worksheet.objects.select_related("repair", "revision").defer("revision__body")
        worksheet = found.filter(id=record).first()
        if head is None or worksheet is None:
            raise BadEntry("record: there is no such worksheet")
        repair = worksheet.repair
    else:
        worksheet = None
        _repair(record)  # no head for what does not exist
        RecordHead.objects.bulk_create([RecordHead(record=record)], ignore_conflicts=True)
        head = RecordHead.objects.select_for_update().get(record=record)
        repair = _repair(record)  # again: it may have been closed while we waited
    entries = list(Entry.objects.filter(record=record).order_by("seq"))
    return Ledger(head=head, repair=repair, worksheet=worksheet, entries=entries)


def _repair(record: UUID) -> Repair:
    repair = Repair.objects.filter(id=record).first()
    if repair is None:
        raise BadEntry("record: there is no such repair")
    return repair


def _write(ledger: Ledger, now: datetime) -> None:
    Entry.objects.bulk_create(ledger.added)
    keep_mentions(ledger.added)
    ledger.head.save(update_fields=["last_seq", "last_hash"])
    stage = ledger.stage()
    if stage is not None:
        set_stage(ledger, stage, now)


def set_stage(ledger: Ledger, stage: str, now: datetime) -> None:
    """Keep the stage of a worksheet; one that passed brings its repair on."""
    worksheet = ledger.worksheet
    assert worksheet is not None  # noqa: S101 - only worksheets have a stage
    if stage != worksheet.stage:
        closed_at = None if stage == Worksheet.Stage.OPEN else now
        worksheet.stage, worksheet.closed_at = stage, closed_at
        worksheet.save(update_fields=["stage", "closed_at"])
    if stage == Worksheet.Stage.PASSED:
        # Also when it had passed before: a safety check that was completed again counts anew.
        key = f"worksheet_passed:{worksheet.id}:{ledger.head.last_seq}"
        outbox.record("jobs.worksheet_passed", key=key, worksheet_id=str(worksheet.id))


def move_parts(ledger: Ledger, entry: Entry) -> None:
    """The stock follows what was taken: in the same transaction, once, by the entry's id.

    A correction gives the pieces of the entry it replaces back first. Raises NoSuchPart; then no
    piece has moved.
    """
    if entry.kind not in (Entry.Kind.PART, Entry.Kind.SKIP):
        return
    with transaction.atomic():
        _move_parts(ledger, entry)


def _move_parts(ledger: Ledger, entry: Entry) -> None:
    before = ledger.by_id.get(entry.replaces_id) if entry.replaces_id else None
    if before is not None and before.kind == Entry.Kind.PART:
        _give_back(before, entry, ledger)
    if entry.kind != Entry.Kind.PART:
        return
    bin_code = entry.value.get("bin")
    take_part(
        id=entry.id,
        part=entry.value["part"],
        quantity=entry.value["quantity"],
        repair=ledger.repair,
        by=entry.made_by,
        at=entry.received_at,
        template=ledger.worksheet.revision.template_id if ledger.worksheet else "",
        bin=Bin.objects.filter(code=bin_code).first() if bin_code else None,
    )


def _give_back(before: Entry, entry: Entry, ledger: Ledger) -> None:
    move = Move.objects.select_related("part").get(id=before.id)
    return_part(
        id=uuid5(entry.id, "given back"),
        part=move.part,
        quantity=move.quantity,
        repair=ledger.repair,
        by=entry.made_by,
        at=entry.received_at,
        reason=entry.reason[:200],
    )
