"""Starting and stopping worksheets."""

from __future__ import annotations

import hashlib
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.benches.models import Bench
from shop.core.errors import BadField, Conflict, NotAllowed
from shop.core.models import Person, Role
from shop.jobs.errors import RepairClosed
from shop.jobs.models import RecordHead, Worksheet
from shop.jobs.packing import pack_bytes
from shop.jobs.selectors import published_revision
from shop.jobs.services.packs import Job, pack_of_job
from shop.repairs.models import Repair
from shop.repairs.stages import CLOSED


def start_worksheet(
    *,
    id: UUID,
    repair: Repair,
    template: str,
    by: Person,
    bench: Bench | None = None,
    facts: dict[str, Any] | None = None,
) -> tuple[Worksheet, bool]:
    """Resolve a template against a repair and keep the pack; also says whether it is new.

    A repeat of the id returns the first worksheet, whatever became known since. Raises
    NoSuchTemplate, RepairClosed, NotAllowed, BadField, Gate, FactsMissing, Conflict.
    """
    sent = facts or {}
    if known := Worksheet.objects.select_related("revision").filter(id=id).first():
        return _same(known, repair, template, bench, sent), False
    revision = published_revision(template)
    if revision.body["role"] == Role.MANAGER and by.role != Role.MANAGER:
        raise NotAllowed(_("This job template is worked by the manager."))
    if repair.stage in CLOSED:
        raise RepairClosed()
    now = timezone.now()
    row = Worksheet(
        id=id,
        repair=repair,
        revision=revision,
        bench=bench,
        opened_by=by,
        opened_at=now,
        facts=sent,
    )
    # Calculations run before the transaction: SQLite's write lock is not held over them.
    _fill_pack(row, by, now)
    try:
        return _keep(row), True
    except IntegrityError:  # the same id at the same moment
        return _same(Worksheet.objects.get(id=id), repair, template, bench, sent), False


@transaction.atomic
def _keep(row: Worksheet) -> Worksheet:
    row.save(force_insert=True)
    RecordHead.objects.create(record=row.id)
    return row


def _same(
    row: Worksheet, repair: Repair, template: str, bench: Bench | None, sent: dict[str, Any]
) -> Worksheet:
    now = (repair.id, template, bench.id if bench else None, sent)
    first = (row.repair_id, row.revision.template_id, row.bench_id, row.facts)
    if now != first:
        raise Conflict(id=str(row.id))
    return row


def _fill_pack(row: Worksheet, by: Person, now: datetime) -> None:
    """Work out the pack and put it on the row as bytes, with its hash."""
    job = Job(
        worksheet=row.id,
        slug=row.revision.template_id,
        number=row.revision.number,
        body=row.revision.body,
        repair=row.repair,
        bench=row.bench,
        sent=row.facts,
    )
    row.pack = pack_bytes(pack_of_job(job, by, now))
    row.pack_sha256 = hashlib.sha256(row.pack).hexdigest()


@transaction.atomic
def stop_worksheet(*, worksheet: Worksheet, reason: str, by: Person) -> Worksheet:
    """End a worksheet that will not be finished. A repeat changes nothing. Raises BadField."""
    if not reason.strip():
        raise BadField("reason", _("Say why it is stopped."), "blank")
    open_ones = Worksheet.objects.filter(id=worksheet.id).exclude(stage=Worksheet.Stage.STOPPED)
    words = f"{by.name or by.username}: {reason.strip()}"[:300]
    now = timezone.now()
    open_ones.update(stage=Worksheet.Stage.STOPPED, closed_at=now, stop_reason=words)
    worksheet.refresh_from_db(fields=["stage", "closed_at", "stop_reason"])
    return worksheet
