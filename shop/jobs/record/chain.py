"""The chain of a record: each entry's hash covers the entry and the hash before it.

hash = SHA-256(RFC 8785 form of the entry, then the hash before as 64 hex characters). In the form
every number is a canonical decimal text, every time UTC with microseconds, people and phones are
ids, photos their SHA-256. Source of the form: RFC 8785 (JSON Canonicalization Scheme).
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

import msgspec
import rfc8785

from shop.calc.decimals import canonical
from shop.jobs.models import Entry

START = "0" * 64


class Broken(msgspec.Struct, frozen=True):
    """Where a chain does not hold, and why."""

    record: UUID
    seq: int
    reason: str


def hash_of(entry: Entry, previous: str) -> str:
    """The hash of an entry that follows `previous`."""
    return hashlib.sha256(rfc8785.dumps(form_of(entry)) + previous.encode()).hexdigest()


def form_of(entry: Entry) -> dict[str, Any]:
    """What is hashed: everything recorded, and nothing derived from it."""
    return {
        "id": str(entry.id),
        "record": str(entry.record),
        "seq": str(entry.seq),
        "repair": str(entry.repair_id),
        "worksheet": _id(entry.worksheet_id),
        "step": entry.step,
        "kind": str(entry.kind),
        "value": plain(entry.value),
        "value_text": entry.value_text,
        "unit": entry.unit,
        "verdict": entry.verdict,
        "meter": _id(entry.meter_id),
        "meter_state": plain(entry.meter_state),
        "replaces": _id(entry.replaces_id),
        "reason": entry.reason,
        "made_by": str(entry.made_by_id),
        "device": _id(entry.device_id),
        "made_at": _time(entry.made_at),
        "received_at": _time(entry.received_at),
    }


def plain(value: Any) -> Any:
    """JSON-like content with its numbers as canonical decimal texts.

    Databases may give 1 back for 1.0; the text is the same for both.
    """
    if isinstance(value, dict):
        return {name: plain(inner) for name, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return canonical(repr(value))
    return value


def _id(value: UUID | None) -> str | None:
    return str(value) if value else None


def _time(value: datetime) -> str:
    return value.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def first_break(record: UUID, entries: Iterable[Entry], head: tuple[int, str]) -> Broken | None:
    """The first place where a chain does not hold; `head` is (last seq, last hash) as kept."""
    previous, seq = START, 0
    for entry in entries:
        seq += 1
        if entry.seq != seq:
            return Broken(record, seq, "an entry is missing")
        if hash_of(entry, previous) != entry.hash:
            return Broken(record, seq, "the entry was changed")
        previous = entry.hash
    if (seq, previous) != head:
        return Broken(record, seq, "the end does not match what was kept")
    return None
