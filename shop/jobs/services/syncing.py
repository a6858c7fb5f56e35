"""What phones bring: each operation applied once, refused with a reason, or repeated."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import msgspec
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.benches.models import Meter
from shop.core.errors import BadField, ShopError
from shop.core.models import Device, Person
from shop.core.selectors import shop_zone
from shop.core.services import DeviceRevoked
from shop.jobs.errors import HeldBack, OtherContent
from shop.jobs.models import Entry
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.making import make_entry
from shop.jobs.record.wire import EntryIn, is_same, read_operation
from shop.jobs.services.recording import move_parts, open_ledger

MOST_OPERATIONS = 200


class Result(msgspec.Struct, omit_defaults=True):
    """What became of one operation."""

    id: str
    outcome: str
    seq: int | None = None
    code: str | None = None
    detail: str | None = None


class _Operation(msgspec.Struct):
    """An operation on its way: the entry it holds, or why it cannot be read."""

    id: str
    record: str
    entry: EntryIn | None
    refusal: ShopError | None
    result: Result | None = None

    def refuse(self, why: ShopError) -> None:
        self.result = Result(self.id, "refused", code=why.code, detail=str(why.detail))


class Batch(msgspec.Struct, frozen=True):
    """Who sends, and what was looked up once for all operations."""

    person: Person
    devices: frozenset[UUID]
    meters: dict[UUID, Meter]
    kept: frozenset[UUID]  # ids of entries already kept, in whatever record
    zone: ZoneInfo
    now: datetime


def apply_operations(
    *, person: Person, device_id: UUID | None, operations: Sequence[Any]
) -> list[Result]:
    """Apply a batch, in its order within each record. Answers each operation.

    A refused operation holds back what follows in its record, not the rest. Idempotent by id.
    Raises DeviceRevoked, or BadField for a batch that is too long.
    """
    if len(operations) > MOST_OPERATIONS:
        raise BadField("operations", _("At most %d at once.") % MOST_OPERATIONS, "too_many")
    read = [_read(operation) for operation in operations]
    batch = _batch(person, device_id, [one.entry for one in read if one.entry])
    records: dict[str, list[_Operation]] = {}
    for one in read:
        records.setdefault(one.record, []).append(one)
    for group in records.values():
        _apply_group(group, batch)
    return [one.result for one in read if one.result]


def _read(operation: Any) -> _Operation:
    named = operation if isinstance(operation, dict) else {}
    body = named.get("body")
    record = body.get("record") if isinstance(body, dict) else None
    id = str(named.get("id", ""))[:64]
    try:
        entry = read_operation(operation)
    except ShopError as why:
        return _Operation(id, str(record)[:64].lower(), None, why)
    return _Operation(id, str(entry.record), entry, None)


def _batch(person: Person, device_id: UUID | None, entries: list[EntryIn]) -> Batch:
    """Everything the batch needs beside its records: three queries, however long it is."""
    devices = {entry.device_id for entry in entries if entry.device_id}
    rows = Device.objects.filter(id__in=devices | {device_id}).values_list("id", "revoked_at")
    known = dict(rows)
    if device_id and known.get(device_id):
        raise DeviceRevoked()
    meters = Meter.objects.in_bulk([id for entry in entries if (id := _meter_id(entry))])
    kept = Entry.objects.filter(id__in=[entry.id for entry in entries])
    return Batch(
        person=person,
        devices=frozenset(known),
        meters=meters,
        kept=frozenset(kept.values_list("id", flat=True)),
        zone=shop_zone() if entries else ZoneInfo("UTC"),
        now=timezone.now(),
    )


def _meter_id(entry: EntryIn) -> UUID | None:
    try:
        return UUID(entry.value["meter"])
    except (KeyError, TypeError, ValueError, AttributeError):
        return None


def _apply_group(group: list[_Operation], batch: Batch) -> None:
    """All operations of one record, in one transaction. The first refusal holds back the rest."""
    first = next((one.entry for one in group if one.entry), None)
    if first is None or group[0].refusal:
        _hold_back(group, group[0].refusal or HeldBack())
        return
    try:
        with open_ledger(
            first.record, is_worksheet=first.worksheet is not None, now=batch.now
        ) as ledger:
            _apply_in_order(group, ledger, batch)
    except ShopError as why:  # there is no such record
        _hold_back(group, why)


def _hold_back(group: list[_Operation], why: ShopError) -> None:
    for index, one in enumerate(group):
        one.refuse(HeldBack() if index else why)


def _apply_in_order(group: list[_Operation], ledger: Ledger, batch: Batch) -> None:
    for index, one in enumerate(group):
        try:
            one.result = _apply(one, ledger, batch)
        except ShopError as why:
            _hold_back(group[index:], why)
            return


def _apply(one: _Operation, ledger: Ledger, batch: Batch) -> Result:
    if one.entry is None:
        raise one.refusal or HeldBack()
    if known := ledger.by_id.get(one.entry.id):
        if not is_same(known, one.entry):
            raise OtherContent()
        return Result(one.id, "repeated", seq=known.seq)
    if one.entry.id in batch.kept:  # and not in this record
        raise OtherContent()
    entry = make_entry(
        ledger,
        one.entry,
        person=batch.person,
        devices=batch.devices,
        meters=batch.meters,
        zone=batch.zone,
        now=batch.now,
    )
    move_parts(ledger, entry)
    ledger.append(entry)
    return Result(one.id, "applied", seq=entry.seq)
