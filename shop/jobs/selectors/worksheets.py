"""Reads of worksheets, and of what they prove about a repair."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.contrib.auth.models import AnonymousUser
from django.db import connection
from django.db.models import Max, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from shop.core.models import Person
from shop.jobs.models import Entry, RecordHead, Revision, Worksheet
from shop.jobs.selectors.entries import heads_of
from shop.repairs.models import Repair
from shop.repairs.stages import CLOSED

# What changes nothing on the unit: words, pictures and signatures.
WORDS_ONLY = (Entry.Kind.NOTE, Entry.Kind.FINDING, Entry.Kind.PHOTO, Entry.Kind.SIGN_OFF)


def worksheets_visible_to(person: Person | AnonymousUser) -> QuerySet[Worksheet]:
    """All worksheets for whoever works here, without their packs, with their last `seq`
    and the newest revision of their template."""
    if not person.is_active:
        return Worksheet.objects.none()
    heads = RecordHead.objects.filter(record=OuterRef("id")).values("last_seq")
    of_template = Revision.objects.filter(template=OuterRef("revision__template"))
    newest = of_template.order_by("-number").values("number")
    return (
        Worksheet.objects.select_related("revision__template", "opened_by")
        .defer("pack", "revision__body")
        .annotate(last_seq=Coalesce(Subquery(heads[:1]), 0), newest_revision=Subquery(newest[:1]))
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
        "newest_revision": getattr(worksheet, "newest_revision", worksheet.revision.number),
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


def stages_of(records: Iterable[UUID]) -> dict[str, dict[str, Any]]:
    """Stage and last `seq` of those records that are worksheets."""
    wanted = list(records)
    stages = dict(Worksheet.objects.filter(id__in=wanted).values_list("id", "stage"))
    heads = heads_of(stages)
    return {str(id): {"stage": stage, "last_seq": heads.get(id, 0)} for id, stage in stages.items()}


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
