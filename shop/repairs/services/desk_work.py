"""What happens to a repair beside its stages: plan, labour, power, closing up, handing back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.core.models import Person, Role
from shop.repairs import stages
from shop.repairs.errors import StageNotAllowed
from shop.repairs.models import Repair, Stage, StageEvent
from shop.repairs.services.hands import (
    record_hands,
    require_at_the_bench,
    require_may_hand_over,
    require_may_take,
)
from shop.repairs.services.stage_changes import (
    change_stage,
    lock,
    require_open,
    require_version,
    update_locked,
)
from shop.repairs.signature import require_signature
from shop.units.models import Unit
from shop.units.services import note_set_for, return_pieces, set_power

NOT_SENT: Any = object()  # None is a value here: no date, nobody
MAX_LABOUR_MINUTES = 60 * 24 * 60


@transaction.atomic
def change_plan(
    *,
    repair: Repair,
    expected_version: int,
    by: Person | None = None,
    due_on: date | None = NOT_SENT,
    assigned_to: Person | None = NOT_SENT,
    set_for_volt: int = NOT_SENT,
    set_for_hz: int | None = NOT_SENT,
) -> Repair:
    """Change the promised day, who works on it, or what supply it was found set for (V, Hz).

    A corrected supply is written down as an event and on the unit; other hands are an event.
    Raises Stale, RepairClosed, BadField, and what taking and handing over raise.
    """
    lock(repair)
    require_version(repair, expected_version)
    require_open(repair)
    if is_passed_on := assigned_to is not NOT_SENT and assigned_to != repair.assigned_to:
        _require_may_assign(repair, assigned_to, by)
    sent = {
        "due_on": due_on, "assigned_to": assigned_to,
        "set_for_volt": set_for_volt, "set_for_hz": set_for_hz,
    }  # fmt: skip
    changed = {
        name: value
        for name, value in sent.items()
        if value is not NOT_SENT and getattr(repair, name) != value
    }
    before = _set_for(repair)
    if changed:
        update_locked(repair, **changed)
    if _set_for(repair) != before:
        _follow_set_for(repair, by, before)
    if is_passed_on:
        record_hands(repair=repair, by=by)
    return repair


def _require_may_assign(repair: Repair, to: Person | None, by: Person | None) -> None:
    """The plan says who works on it: the same rules as taking and handing over."""
    require_at_the_bench(to, "assigned_to")
    if by and by == to and by.role == Role.TECH:
        require_may_take(repair, by)
    elif by:
        require_may_hand_over(repair, by)


def _set_for(repair: Repair) -> str:
    """In words, such as "230 V, 50 Hz"."""
    found = ((repair.set_for_volt, "V"), (repair.set_for_hz, "Hz"))
    words = [f"{value} {unit}" for value, unit in found if value]
    return ", ".join(words) or _("not known")


def _follow_set_for(repair: Repair, by: Person | None, before: str) -> None:
    """An event within the stage says what was corrected; the unit's next tag shows it."""
    words = _("“Set for” corrected from %(before)s to %(now)s.")
    StageEvent.objects.create(
        repair=repair, from_stage=repair.stage, to_stage=repair.stage, at=timezone.now(), by=by,
        reason=words % {"before": before, "now": _set_for(repair)},
    )  # fmt: skip
    if repair.set_for_volt:
        note_set_for(unit=repair.unit, volt=repair.set_for_volt, hz=repair.set_for_hz)


@transaction.atomic
def correct_labour(*, repair: Repair, minutes: int | None, expected_version: int) -> Repair:
    """Set the labour time by hand; None goes back to what the worksheets say. Raises Stale."""
    if minutes is not None and not 0 <= minutes <= MAX_LABOUR_MINUTES:
        raise BadField("minutes", _("This is no labour time of one repair."), "out_of_range")
    lock(repair)
    require_version(repair, expected_version)
    if repair.labour_minutes_corrected != minutes:
        update_locked(repair, labour_minutes_corrected=minutes)
    return repair


@transaction.atomic
def set_unit_power(*, unit: Unit, cleared: bool, reason: str, by: Person) -> Unit:
    """Clear a unit for power or forbid it. One that leaves unrepaired is never cleared."""
    unrepaired = unit.repairs.filter(stage__in=stages.UNREPAIRED).exists()
    if cleared and unrepaired:
        raise StageNotAllowed(_("It was left unrepaired: it stays labelled not safe to power."))
    return set_power(unit=unit, cleared=cleared, reason=reason, by=by)


@transaction.atomic
def acknowledge_closed_up(*, repair: Repair, by: Person) -> Repair:
    """Somebody vouches: closed up and labelled not safe to power. A repeat changes nothing."""
    lock(repair)
    if repair.stage not in stages.UNREPAIRED | {Stage.UNCLAIMED}:
        raise StageNotAllowed(_("Only a unit that leaves unrepaired is closed up and labelled."))
    if repair.closed_up_at is None:
        update_locked(repair, closed_up_at=timezone.now(), closed_up_by=by)
    return repair


@transaction.atomic
def hand_back(
    *,
    id: UUID,
    repair: Repair,
    by: Person,
    pieces: Sequence[str],
    missing_reason: str = "",
    signature: Mapping[str, Any] | None = None,
    is_closed_up: bool = False,
    expected_version: int | None = None,
) -> StageEvent:
    """The unit goes back to its customer with its loose pieces ticked off, and the repair closes.

    A repeat with the same id returns the first event. Raises PiecesMissing, NotClosedUp (left
    unrepaired and nobody vouched for it), what `change_stage` raises, BadField.
    """
    reason = missing_reason.strip()
    lock(repair)
    if StageEvent.objects.filter(id=id).exists():
        return change_stage(repair=repair, to=Stage.HANDED_BACK, by=by, reason=reason, event_id=id)
    require_version(repair, expected_version)
    require_signature(signature)
    if (repair.stage, Stage.HANDED_BACK) in stages.TABLE:
        _settle(repair, by, pieces, reason, is_closed_up)
    event = change_stage(repair=repair, to=Stage.HANDED_BACK, by=by, reason=reason, event_id=id)
    if signature:
        Repair.objects.filter(id=repair.id).update(fetched_signature=dict(signature))
    return event


def _settle(
    repair: Repair, by: Person, pieces: Sequence[str], reason: str, is_closed_up: bool
) -> None:
    if is_closed_up and repair.stage != Stage.READY:
        acknowledge_closed_up(repair=repair, by=by)
    return_pieces(unit=repair.unit, ticked=pieces, missing_reason=reason)
