"""Unsent entries of a phone that can no longer send, taken in from the file it saved."""

from __future__ import annotations

import hashlib
from base64 import b64decode
from collections import Counter
from collections.abc import Iterator
from itertools import groupby
from typing import Any
from uuid import UUID

import msgspec
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, NotAllowed
from shop.core.ids import new_id
from shop.core.models import Person, Role
from shop.jobs.services.syncing import MOST_OPERATIONS, Result, apply_operations
from shop.repairs.errors import PhotoHashDiffers
from shop.repairs.models import Repair
from shop.repairs.services import store_photo


class QueueFile(msgspec.Struct):
    """What `exportQueue` of the app writes: entries as made, photos in base64 by their SHA-256."""

    format: int
    made_at: str
    operations: list[dict[str, Any]]
    photos: dict[str, str] = {}


class TakenIn(msgspec.Struct):
    """What became of each entry, and how many photos came along."""

    results: list[Result]
    photos: int

    def count(self, outcome: str) -> int:
        return sum(result.outcome == outcome for result in self.results)


def take_in_queue(*, content: bytes, by: Person) -> TakenIn:
    """Take in a file of unsent entries, each under the name of who made it.

    A repeat doubles nothing. The bench log of each repair says who took in how much of whom.
    Raises NotAllowed, BadField for no such file, PhotoHashDiffers before anything is kept.
    """
    if by.role != Role.MANAGER or not by.is_active:
        raise NotAllowed()
    file = _read(content)
    photos = {name: _picture(name, text) for name, text in file.photos.items()}
    people = _makers(file.operations)
    _keep_photos(file.operations, photos, people)
    results: list[Result] = []
    for maker, bodies in groupby(file.operations, key=lambda body: str(body.get("made_by"))):
        for batch in _batches(list(bodies)):
            done = apply_operations(person=people[maker], device_id=None, operations=batch)
            _note(batch, done, people[maker], by)
            results += done
    return TakenIn(results, len(photos))


def _read(content: bytes) -> QueueFile:
    try:
        file = msgspec.json.decode(content, type=QueueFile)
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise BadField("file", _("This is no file of unsent entries."), "not_a_queue") from error
    if file.format != 1:
        raise BadField("format", _("This file is of a newer app."), "format_not_known")
    return file


def _picture(sha256: str, text: str) -> bytes:
    try:
        content = b64decode(text, validate=True)
    except ValueError as error:
        raise PhotoHashDiffers() from error
    if hashlib.sha256(content).hexdigest() != sha256:
        raise PhotoHashDiffers()
    return content


def _makers(bodies: list[dict[str, Any]]) -> dict[str, Person]:
    """Who made the entries, by id as written. Raises BadField for somebody nobody knows."""
    makers = {str(body.get("made_by")) for body in bodies}
    found = {}
    for id in makers:
        person = Person.objects.filter(id=id).first() if _is_uuid(id) else None
        if person is None:
            raise BadField("made_by", _("Nobody here has the id %s.") % id, "does_not_exist")
        found[id] = person
    return found


def _is_uuid(text: str) -> bool:
    try:
        return bool(UUID(text))
    except ValueError:
        return False


def _keep_photos(
    bodies: list[dict[str, Any]], photos: dict[str, bytes], people: dict[str, Person]
) -> None:
    """Photos before the entries that name them, as a phone sends them."""
    for body in bodies:
        value = body.get("value")
        sha256 = value.get("sha256") if isinstance(value, dict) else None
        if body.get("kind") != "photo" or sha256 not in photos:
            continue
        repair_id = str(body.get("repair"))
        repair = Repair.objects.filter(id=repair_id).first() if _is_uuid(repair_id) else None
        store_photo(
            sha256=sha256, content=photos[sha256], by=people[str(body["made_by"])], repair=repair
        )


def _batches(bodies: list[dict[str, Any]]) -> Iterator[list[dict[str, Any]]]:
    for start in range(0, len(bodies), MOST_OPERATIONS):
        yield [_operation(body) for body in bodies[start : start + MOST_OPERATIONS]]


def _operation(body: dict[str, Any]) -> dict[str, Any]:
    return {"id": body.get("id"), "kind": "entry", "version": 1, "body": body}


def _note(batch: list[dict[str, Any]], done: list[Result], maker: Person, by: Person) -> None:
    """The bench log tells that somebody other than the maker brought these entries."""
    repairs = {str(one["id"]): str(one["body"].get("repair")) for one in batch}
    new = Counter(repairs[result.id] for result in done if result.outcome == "applied")
    for repair, count in new.items():
        text = _("Entries of %(name)s taken in from a file of unsent entries: %(count)d.") % {
            "name": maker.name,
            "count": count,
        }
        apply_operations(person=by, device_id=None, operations=[_log_note(repair, text, by)])


def _log_note(repair: str, text: str, by: Person) -> dict[str, Any]:
    id, now = str(new_id()), timezone.now().isoformat()
    body = {
        "id": id, "record": repair, "repair": repair, "worksheet": None, "step": None,
        "kind": "note", "value": {"text": text}, "replaces": None, "reason": "",
        "made_by": str(by.id), "made_by_name": by.name, "device_id": None, "made_at": now,
        "verdict": None,
    }  # fmt: skip
    return _operation(body)
