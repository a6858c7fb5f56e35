"""An entry as a phone sends it: its shape, its limits, and whether it was sent before."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Annotated, Any, Literal
from uuid import UUID

import msgspec
import orjson
from msgspec import Meta

from shop.jobs.errors import BadEntry, FormatNotKnown
from shop.jobs.models import Entry
from shop.jobs.record.chain import plain

Text = Annotated[str, Meta(max_length=4000)]
Word = Annotated[str, Meta(min_length=1, max_length=120)]
Moment = Annotated[datetime, Meta(tz=True)]
Sha256 = Annotated[str, Meta(pattern="^[0-9a-f]{64}$", max_length=64)]  # `$` lets "\\n" by
MOST_BYTES = 20_000
A_DAY = timedelta(days=1)


class Nothing(msgspec.Struct):
    """An acknowledgement says nothing more."""


class ChoiceValue(msgspec.Struct):
    choice: Word


class FromInstrument(msgspec.Struct):
    """The offered reading that was taken, as the instrument `said` it: not typed by hand."""

    offer: UUID
    said: Annotated[str, Meta(min_length=1, max_length=40)]
    taken_at: Moment


class ReadingValue(msgspec.Struct):
    as_typed: Annotated[str, Meta(min_length=1, max_length=40)]
    unit: Annotated[str, Meta(max_length=12)]
    state: Literal["measured", "over_range", "not_measured"]
    value_text: Annotated[str, Meta(max_length=40)] | None = None
    meter: UUID | None = None
    low: float | None = None
    high: float | None = None
    quantity: Annotated[str, Meta(max_length=20)] | None = None
    rule: Literal["simple", "guarded", "non_binary"] = "simple"
    name: Annotated[str, Meta(max_length=120)] | None = None
    instrument: FromInstrument | None = None


class PhotoValue(msgspec.Struct):
    sha256: Sha256
    width: Annotated[int, Meta(gt=0, le=100_000)]
    height: Annotated[int, Meta(gt=0, le=100_000)]
    size: Annotated[int, Meta(gt=0)]
    caption: Annotated[str, Meta(max_length=200)] = ""


class FindingValue(msgspec.Struct):
    finding: Literal["symptom", "cause", "proof", "other"]
    text: Annotated[str, Meta(min_length=1, max_length=4000)]


class NoteValue(msgspec.Struct):
    """`mentions`: ids of the people whom the text names; their names may change."""

    text: Annotated[str, Meta(min_length=1, max_length=4000)]
    mentions: Annotated[list[UUID], Meta(max_length=20)] = []


class SkipValue(msgspec.Struct):
    how: Literal["skipped", "not_applicable"]
    reason: Annotated[str, Meta(min_length=1, max_length=300)]


class TimerValue(msgspec.Struct):
    started_at: Moment
    ended_at: Moment | None = None


class PartValue(msgspec.Struct):
    part: Annotated[str, Meta(min_length=1, max_length=40)]
    quantity: Annotated[int, Meta(gt=0, le=10_000)]
    bin: Annotated[str, Meta(max_length=8)] | None = None


VALUES: dict[str, type[msgspec.Struct]] = {
    "acknowledge": Nothing, "choice": ChoiceValue, "reading": ReadingValue, "photo": PhotoValue,
    "finding": FindingValue, "note": NoteValue, "skip": SkipValue, "timer": TimerValue,
    "part": PartValue, "sign_off": Nothing,
}  # fmt: skip


class EntryIn(msgspec.Struct):
    """The body of an operation. What a server adds (seq, hash, received_at) is not read."""

    id: UUID
    record: UUID
    repair: UUID
    kind: Literal[
        "acknowledge", "choice", "reading", "photo", "finding", "note", "skip", "timer", "part",
        "sign_off",
    ]  # fmt: skip
    value: dict[str, Any]
    made_by: UUID
    made_at: Moment
    worksheet: UUID | None = None
    step: Annotated[str, Meta(max_length=120)] | None = None
    replaces: UUID | None = None
    reason: Annotated[str, Meta(max_length=300)] = ""
    device_id: UUID | None = None


def read_operation(operation: Any) -> EntryIn:
    """The entry in an operation. Raises FormatNotKnown or BadEntry with the field and reason."""
    if not isinstance(operation, dict):
        raise BadEntry()
    if operation.get("kind") != "entry" or operation.get("version") != 1:
        raise FormatNotKnown()
    body = operation.get("body")
    _require_keepable(body)
    entry: EntryIn = _convert(body, EntryIn)
    if str(entry.id) != str(operation.get("id", "")).lower():
        raise BadEntry("id: the operation and its entry have different ids")
    if entry.record != (entry.worksheet or entry.repair):
        raise BadEntry("record: neither the worksheet nor the repair")
    _require_in_calendar(entry.made_at)
    return entry


def _require_in_calendar(moment: datetime) -> None:
    """The first and the last day of the calendar have no date in some zone of the world."""
    try:
        utc = moment.astimezone(UTC)
        _ = utc - A_DAY, utc + A_DAY
    except OverflowError as error:
        raise BadEntry(f"made_at: {error}") from error


def read_value(entry: EntryIn) -> Any:
    """The value of an entry by its kind. Raises BadEntry."""
    return _convert(entry.value, VALUES[entry.kind], "value.")


def _convert(content: Any, wanted: type[Any], prefix: str = "") -> Any:
    try:
        return msgspec.convert(content, wanted)
    except msgspec.ValidationError as error:
        raise BadEntry(f"{prefix}{error}") from error


def _require_keepable(body: Any) -> None:
    """Bounded, and without what a database cannot keep (NUL, half a surrogate pair)."""
    try:
        raw = orjson.dumps(body)
    except (TypeError, ValueError, RecursionError) as error:
        raise BadEntry(str(error)) from error
    if len(raw) > MOST_BYTES:
        raise BadEntry(f"longer than {MOST_BYTES} bytes")
    if b"\\u0000" in raw:
        raise BadEntry("holds a NUL character")


def is_same(known: Entry, sent: EntryIn) -> bool:
    """Whether what was sent is what was kept under this id."""
    kept_value = {name: inner for name, inner in known.value.items() if name != "judged"}
    sent_value = {name: inner for name, inner in sent.value.items() if name != "judged"}
    kept = (known.record, known.repair_id, known.step, known.kind, known.replaces_id, known.reason)
    wanted = (sent.record, sent.repair, sent.step or "", sent.kind, sent.replaces, sent.reason)
    return (
        kept == wanted
        and plain(kept_value) == plain(sent_value)
        and (known.made_by_id, known.made_at) == (sent.made_by, sent.made_at)
    )
