"""Signing at a hold point: online, by the named role, where asked by another person."""

from __future__ import annotations

from uuid import UUID

from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, Conflict
from shop.core.models import Person, Role
from shop.core.selectors import active_people
from shop.jobs.errors import SignOffNeedsOtherPerson, SignOffNeedsRole, StepLocked, UnknownStep
from shop.jobs.models import Entry, Worksheet
from shop.jobs.record.ledger import Ledger
from shop.jobs.record.rules import require_open
from shop.jobs.record.state import Step, step_at
from shop.jobs.services.recording import open_ledger


def sign_off(
    *, id: UUID, worksheet: Worksheet, step: str, by: Person, note: str = "",
    device_id: UUID | None = None,
) -> Entry:  # fmt: skip
    """Sign a step. `by` has just proved who they are. A repeat of the id returns the first.

    Where another person is asked for and nobody else who works here could sign, whoever did the
    work signs and names in the note who was by. Raises UnknownStep, StepLocked, SignOffNeedsRole,
    SignOffNeedsOtherPerson, BadField, RepairClosed, WorksheetStopped, Conflict.
    """
    now = timezone.now()
    with open_ledger(worksheet.id, is_worksheet=True, now=now) as ledger:
        if known := ledger.by_id.get(id):
            return _same(known, step, by)
        if Entry.objects.filter(id=id).exists():  # and not in this record
            raise Conflict(id=str(id))
        require_open(ledger)
        asked = _asked(ledger, step)
        _require_may_sign(ledger, asked, by, note)
        entry = Entry(
            id=id,
            record=worksheet.id,
            repair_id=ledger.repair.id,
            worksheet_id=worksheet.id,
            step=step,
            kind=Entry.Kind.SIGN_OFF,
            value={"role": by.role, "signed_by": str(by.id), "note": note},
            made_by=by,
            device_id=device_id,
            made_at=now,
            received_at=now,
        )
        ledger.append(entry)
    return entry


def _same(known: Entry, step: str, by: Person) -> Entry:
    if (known.kind, known.step, known.made_by_id) != (Entry.Kind.SIGN_OFF, step, by.id):
        raise Conflict(id=str(known.id))
    return known


def _asked(ledger: Ledger, name: str) -> Step:
    found = step_at(ledger.pack, ledger.standing, name) if ledger.pack else None
    if found is None or found[0]["kind"] != "sign_off":
        raise UnknownStep()
    if found[1]:
        raise StepLocked()
    return found[0]


def _require_may_sign(ledger: Ledger, step: Step, by: Person, note: str) -> None:
    """The named role signs, or the manager; another person than any who did the work."""
    if by.role not in (step["role"], Role.MANAGER):
        raise SignOffNeedsRole()
    workers = {e.made_by_id for e in ledger.by_id.values() if e.kind != Entry.Kind.SIGN_OFF}
    if not step.get("other_person") or by.id not in workers:
        return
    if _others(step, workers).exists():
        raise SignOffNeedsOtherPerson()
    if not note.strip():
        why = _("Nobody else who works here could sign. Name in the note who is by, and sign.")
        raise BadField("note", why, "blank")


def _others(step: Step, workers: set[UUID]) -> QuerySet[Person]:
    """Who works here, may sign the step and did none of the work."""
    return active_people().filter(role__in=(step["role"], Role.MANAGER)).exclude(id__in=workers)
