"""The one way from one stage to another."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core import outbox
from shop.core.errors import BadField, Stale
from shop.core.idempotency import require_same
from shop.core.ids import new_id
from shop.core.models import Person, Role
from shop.repairs import errors, stages
from shop.repairs.models import Hands, Repair, Stage, StageEvent
from shop.units.services import rule_on_power

REASON_LENGTH = 300


@transaction.atomic
def change_stage(
    *,
    repair: Repair,
    to: str,
    by: Person | None,
    reason: str = "",
    expected_version: int | None = None,
    event_id: UUID | None = None,
) -> StageEvent:
    """Move a repair to another stage and write down who, when and why.

    `by` None is the customer by the status page, or the shop's own rules. Leaves `repair` as it
    is in the database. A repeat with the same `event_id` returns the first event. Raises
    StageNotAllowed, NotAllowed, RequirementMissing, BadField (no reason), Stale, and Conflict if
    the id has other content.
    """
    reason = reason.strip()[:REASON_LENGTH]
    lock(repair)  # first, so that a repeat sent at the same moment finds the event
    if known := StageEvent.objects.filter(id=event_id).first() if event_id else None:
        return require_same(known, repair_id=repair.id, to_stage=to, reason=reason)

    require_version(repair, expected_version)
    change = stages.require_allowed(repair, to, by)
    if change.needs_reason and not reason:
        raise BadField("reason", _("Say why."), "blank")
    return _write(repair, to, by, reason, event_id or new_id())


def lock(repair: Repair) -> None:
    """Read the repair anew, locked where the database can."""
    Repair.objects.select_for_update().only("id").get(id=repair.id)
    repair.refresh_from_db()


def require_version(repair: Repair, expected_version: int | None) -> None:
    """Raises Stale when somebody was quicker. None: whatever it is now."""
    if expected_version is not None and repair.version != expected_version:
        raise Stale(version=repair.version)


def require_open(repair: Repair) -> None:
    """Raises RepairClosed."""
    if repair.stage in stages.CLOSED:
        raise errors.RepairClosed()


def update_locked(repair: Repair, **values: Any) -> None:
    """Write single values and the next version, if nobody else did meanwhile. Raises Stale."""
    values["version"] = repair.version + 1
    # SQLite has no row locks; the version in the condition holds there.
    rows = Repair.objects.filter(id=repair.id, version=repair.version).update(**values)
    if not rows:
        raise Stale()
    for name, value in values.items():
        setattr(repair, name, value)


def _write(repair: Repair, to: str, by: Person | None, reason: str, id: UUID) -> StageEvent:
    now, before = timezone.now(), repair.stage
    values: dict[str, Any] = {"stage": to, "stage_since": now}
    if to in stages.CLOSED:
        values |= {"closed_at": now, "outcome": _outcome(repair, to)}
    hands: dict[str, Any] = {}
    if _takes(repair, to, by):
        values["assigned_to"] = by
        hands = {"hands": Hands.TAKEN, "handed_to": by}
    if before in stages.UNREPAIRED and to == Stage.ON_THE_BENCH:
        values |= {"closed_up_at": None, "closed_up_by": None}  # it will be opened again
    update_locked(repair, **values)
    event = StageEvent.objects.create(
        id=id, repair=repair, from_stage=before, to_stage=to, at=now, by=by, reason=reason, **hands
    )
    _follow(repair, event)
    return event


def _takes(repair: Repair, to: str, by: Person | None) -> bool:
    """A tech who begins on what nobody has, or on what was handed to them, has taken it."""
    begins = to in {Stage.LOOKING_OVER, Stage.ON_THE_BENCH}
    is_tech = by is not None and by.role == Role.TECH
    return begins and is_tech and repair.assigned_to_id in (None, by and by.id)


def _outcome(repair: Repair, to: str) -> str:
    """The last word on this visit, for the unit's history."""
    if to == Stage.DISPOSED:
        return str(Stage.DISPOSED.value)
    return "repaired" if stages.was_made_ready(repair) else "unrepaired"


def _follow(repair: Repair, event: StageEvent) -> None:
    """What a stage brings about, in the same transaction."""
    if event.to_stage == Stage.READY:
        _tell(repair, event, "ready")
        record_work("documents.issue_test_report", repair, event)
        rule_on_power(unit=repair.unit, is_allowed=True, why=_("Passed its safety check."))
        record_work("documents.issue", repair, event, kind="tag")  # without DO NOT POWER
    elif event.to_stage in stages.UNREPAIRED:
        rule_on_power(unit=repair.unit, is_allowed=False, why=_("Left unrepaired."))
        _tell(repair, event, "leaves_unrepaired")


def _tell(repair: Repair, event: StageEvent, kind: str) -> None:
    record_work("notices.tell_customer", repair, event, kind=kind)


def record_work(work: str, repair: Repair, event: StageEvent, **more: str) -> None:
    """Work for a later app, caused by one event and therefore done once."""
    key = ":".join([work, *more.values(), str(event.id)])
    payload: dict[str, Any] = {
        "repair_id": str(repair.id),
        "cause_id": str(event.id),
        **more,
    }
    outbox.record(work, key=key, **payload)


@transaction.atomic
def move_to_ready(*, repair: Repair, by: Person | None, reason: str = "") -> StageEvent:
    """All worksheets passed: from the bench through the test to ready.

    Raises what `change_stage` raises; then nothing has changed.
    """
    now = Repair.objects.get(id=repair.id)  # so that `repair` stays as it is if the last step fails
    if now.stage == Stage.ON_THE_BENCH:
        change_stage(repair=now, to=Stage.ON_TEST, by=by, reason=reason)
    event = change_stage(repair=now, to=Stage.READY, by=by, reason=reason)
    repair.refresh_from_db()
    return event
