"""Into whose hands a repair comes: taken, handed over, put back. Each is an event."""

from __future__ import annotations

from typing import Final
from uuid import UUID

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, NotAllowed
from shop.core.idempotency import require_same
from shop.core.ids import new_id
from shop.core.models import Person, Role
from shop.repairs.errors import InOthersHands, NotInYourHands
from shop.repairs.models import Hands, Repair, StageEvent
from shop.repairs.selectors.hands import is_waiting_for, last_hands
from shop.repairs.services.stage_changes import (
    REASON_LENGTH,
    lock,
    require_open,
    require_version,
    update_locked,
)

AT_THE_BENCH: Final = frozenset({Role.TECH.value, Role.MANAGER.value})


@transaction.atomic
def take_repair(
    *, id: UUID, repair: Repair, by: Person, taken_from: UUID | None = None, note: str = ""
) -> Repair:
    """Take what nobody has, or what was handed to one. A repeat with the same id changes nothing.

    A manager takes it from somebody's hands by naming them in `taken_from`. Raises InOthersHands
    with who has it, NotAllowed, RepairClosed, and Conflict if the id has other content.
    """
    note = note.strip()[:REASON_LENGTH]
    lock(repair)  # of two at once the second sees what the first did
    if known := StageEvent.objects.filter(id=id).first():
        require_same(known, repair_id=repair.id, hands=Hands.TAKEN, handed_to_id=by.id, reason=note)
        return repair
    require_open(repair)
    require_may_take(repair, by, taken_from)
    if not _has_taken(repair, by):
        update_locked(repair, assigned_to=by)
        record_hands(repair=repair, by=by, note=note, id=id)
    return repair


@transaction.atomic
def hand_over(
    *,
    id: UUID,
    repair: Repair,
    to: Person | None,
    by: Person,
    note: str = "",
    expected_version: int | None = None,
) -> Repair:
    """Hand a repair to somebody at the bench, or put it back (`to` None) for whoever takes it.

    A repeat with the same id changes nothing. Raises NotInYourHands (a tech hands over what they
    have), BadField (nobody of the bench, oneself, or who has it), RepairClosed, Stale, Conflict.
    """
    note = note.strip()[:REASON_LENGTH]
    hands = Hands.HANDED if to else Hands.PUT_BACK
    lock(repair)
    if known := StageEvent.objects.filter(id=id).first():
        to_id = to.id if to else None
        require_same(known, repair_id=repair.id, hands=hands, handed_to_id=to_id, reason=note)
        return repair
    require_version(repair, expected_version)
    require_open(repair)
    require_may_hand_over(repair, by)
    _require_other_hands(repair, to, by)
    update_locked(repair, assigned_to=to)
    record_hands(repair=repair, by=by, note=note, id=id)
    return repair


def record_hands(
    *, repair: Repair, by: Person | None, note: str = "", id: UUID | None = None
) -> StageEvent:
    """Write down in whose hands a locked repair is from now on: taken, handed over, or put back."""
    to = repair.assigned_to
    hands = Hands.PUT_BACK if to is None else Hands.TAKEN if to == by else Hands.HANDED
    return StageEvent.objects.create(
        id=id or new_id(), repair=repair, from_stage=repair.stage, to_stage=repair.stage,
        at=timezone.now(), by=by, reason=note, hands=hands, handed_to=to,
    )  # fmt: skip


def require_may_take(repair: Repair, by: Person, taken_from: UUID | None = None) -> None:
    """Raises NotAllowed (no work of the desk), or InOthersHands unless a manager says from whom."""
    if by.role not in AT_THE_BENCH:
        raise NotAllowed(_("Repairs are worked at the bench."))
    holder = repair.assigned_to
    if holder is None or holder == by:
        return
    if by.role == Role.MANAGER and taken_from == holder.id:
        return
    facts = {"person": str(holder.id), "name": str(holder)}
    words = _("%(name)s has it in hand. %(name)s, the desk or the manager can hand it over.")
    raise InOthersHands(words % facts, **facts)


def require_may_hand_over(repair: Repair, by: Person) -> None:
    """Desk and manager hand over anything, a tech what they have. Raises NotInYourHands."""
    if by.role == Role.TECH and repair.assigned_to_id != by.id:
        raise NotInYourHands()


def require_at_the_bench(person: Person | None, field: str) -> None:
    """Raises BadField for somebody who left, or who does not work at the bench."""
    if person is None:
        return
    if not person.is_active:
        raise BadField(field, _("This person no longer works here."), "inactive")
    if person.role not in AT_THE_BENCH:
        raise BadField(field, _("This person does not work at the bench."), "not_at_the_bench")


def _require_other_hands(repair: Repair, to: Person | None, by: Person) -> None:
    require_at_the_bench(to, "to")
    if to == by:
        raise BadField("to", _("Take it yourself instead."), "oneself")
    if to == repair.assigned_to:
        words = _("%s has it in hand already.") if to else _("Nobody has it in hand already.")
        raise BadField("to", words % to if to else words, "already")


def _has_taken(repair: Repair, person: Person) -> bool:
    last = last_hands([repair.id]).get(repair.id)
    return repair.assigned_to_id == person.id and not is_waiting_for(last, person)
