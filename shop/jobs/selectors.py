"""Reads of templates, worksheets and entries."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.contrib.auth.models import AnonymousUser
from django.db import connection
from django.db.models import Max, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from shop.core.models import Person
from shop.jobs.errors import NoSuchTemplate
from shop.jobs.models import Entry, RecordHead, Revision, Worksheet
from shop.jobs.record.chain import START, Broken, first_break
from shop.repairs.models import Repair
from shop.repairs.stages import CLOSED

# What changes nothing on the unit: words, pictures and signatures.
WORDS_ONLY = (Entry.Kind.NOTE, Entry.Kind.FINDING, Entry.Kind.PHOTO, Entry.Kind.SIGN_OFF)


# Templates


def published_revisions() -> QuerySet[Revision]:
    """The newest revision of each template that is not retired, by title."""
    newest = (
        Revision.objects.filter(template=OuterRef("template")).order_by("-number").values("number")
    )
    return (
        Revision.objects.filter(template__retired_at=None, number=Subquery(newest[:1]))
        .select_related("template")
        .order_by("template__title", "template_id")
    )


def published_revision(slug: str) -> Revision:
    """The newest revision of a template. Raises NoSuchTemplate."""
    found = published_revisions().filter(template_id=slug).first()
    if found is None:
        raise NoSuchTemplate(template=slug)
    return found


# Worksheets


def worksheets_visible_to(person: Person | AnonymousUser) -> QuerySet[Worksheet]:
    """All worksheets for whoever works here, without their packs, with their last `seq`."""
    if not person.is_active:
        return Worksheet.objects.none()
    heads = RecordHead.objects.filter(record=OuterRef("id")).values("last_seq")
    return (
        Worksheet.objects.select_related("revision__template", "opened_by")
        .defer("pack", "revision__body")
        .annotate(last_seq=Coalesce(Subquery(heads[:1]), 0))
    )


def worksheets_to_hold(person: Person) -> QuerySet[Worksheet]:
    """What a person's phone should hold: worksheets of their repairs and those they opened."""
    mine = Q(repair__assigned_to=person) | Q(opened_by=person)
    still = ~Q(stage=Worksheet.Stage.STOPPED) & ~Q(repair__stage__in=CLOSED)
    return worksheets_visible_to(person).filter(mine, still).select_related("repair__unit")


def worksheet_row(worksheet: Worksheet) -> dict[str, Any]:
    """A worksheet as lists show it. It comes from `worksheets_visible_to`."""
    return {
        "id": worksheet.id,
        "repair": worksheet.repair_id,
        "template": worksheet.revision.template_id,
        "title": worksheet.revision.template.title,
        "revision": worksheet.revision.number,
        "stage": worksheet.stage,
        "opened_at": worksheet.opened_at,
        "opened_by_name": str(worksheet.opened_by),
        "last_seq": getattr(worksheet, "last_seq", 0),
        "pack_sha256": worksheet.pack_sha256,
    }


def pack_of(worksheet_id: UUID) -> tuple[bytes, str] | None:
    """(bytes, SHA-256) of a pack. By hand: every scan ends here, and the ORM is a fifth of it."""
    key = Worksheet._meta.get_field("id").get_db_prep_value(worksheet_id, connection)
    with connection.cursor() as cursor:
        cursor.execute("SELECT pack, pack_sha256 FROM jobs_worksheet WHERE id = %s", [key])
        row = cursor.fetchone()
    return None if row is None else (bytes(row[0]), row[1])


# Entries


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


# What stages require


def safety_checks() -> QuerySet[Worksheet]:
    """Worksheets of templates that prove the electrical safety check."""
    return Worksheet.objects.filter(revision__body__proves="safety_check").defer("pack")


def passed_safety_check(repair: Repair) -> Worksheet | None:
    """The newest passed worksheet of a template that proves the electrical safety check."""
    passed = safety_checks().filter(repair=repair, stage=Worksheet.Stage.PASSED)
    return passed.order_by("-closed_at", "-id").first()


def changed_since(check: Worksheet) -> bool:
    """Whether work was recorded on the unit after the last entry of a safety check.

    A newer safety check that has not passed counts as well: it has found something.
    """
    last = check.entries.aggregate(at=Max("received_at"))["at"] or check.opened_at
    others = Entry.objects.filter(repair_id=check.repair_id, received_at__gt=last)
    passed = safety_checks().filter(repair_id=check.repair_id, stage=Worksheet.Stage.PASSED)
    ids = list(passed.values_list("id", flat=True))
    work = others.exclude(kind__in=WORDS_ONLY).exclude(worksheet__in=ids)
    # In the bench log only a part that was taken changes the unit; readings there tell about it.
    return work.filter(Q(worksheet__isnull=False) | Q(kind=Entry.Kind.PART)).exists()


# As phones see them


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


def stages_of(records: Iterable[UUID]) -> dict[str, dict[str, Any]]:
    """Stage and last `seq` of those records that are worksheets."""
    wanted = list(records)
    stages = dict(Worksheet.objects.filter(id__in=wanted).values_list("id", "stage"))
    heads = heads_of(stages)
    return {str(id): {"stage": stage, "last_seq": heads.get(id, 0)} for id, stage in stages.items()}


def first_break_of(record: UUID) -> Broken | None:
    """Where the chain of a record does not hold; None if it does."""
    head = RecordHead.objects.filter(record=record).first()
    kept = (head.last_seq, head.last_hash) if head else (0, START)
    return first_break(record, Entry.objects.filter(record=record).order_by("seq"), kept)
