"""Which change of stage is allowed to whom, and what it requires: one table, and nothing skips it.

What a later app must vouch for is registered by name in that app's `AppConfig.ready()`:

    @stages.requirement("safety_check_passed")
    def safety_check_passed(repair: Repair) -> str | None: ...

A requirement answers None when it is fulfilled, else the sentence why not. One that nobody
registered is not fulfilled: the table fails closed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final, NamedTuple

from django.utils.translation import gettext as _

from shop.core.errors import NotAllowed
from shop.core.models import Person, Role
from shop.repairs import errors
from shop.repairs.models import Repair, Stage

SYSTEM: Final = "system"  # no person: the customer by the status page, or a passed worksheet
Requirement = Callable[[Repair], "str | None"]

_requirements: dict[str, Requirement] = {}

ERRORS: Final[dict[str, type[errors.RequirementMissing]]] = {
    "safety_check_passed": errors.SafetyCheckMissing,
    "worksheets_passed": errors.WorksheetsUnfinished,
    "closed_up_and_labelled": errors.NotClosedUp,
    "pieces_accounted_for": errors.PiecesStillHere,
    "paid_or_agreed": errors.PaymentDue,
}


class Change(NamedTuple):
    """One allowed change. `needs_reason`: the person must say why."""

    roles: frozenset[str]
    requires: tuple[str, ...] = ()
    needs_reason: bool = False


_DESK: Final = frozenset({Role.DESK.value, Role.MANAGER.value})
_BENCH: Final = frozenset({Role.TECH.value, Role.MANAGER.value})
_STAFF: Final = _DESK | _BENCH
_MANAGER: Final = frozenset({Role.MANAGER.value})
_SYSTEM: Final = frozenset({SYSTEM})
_PROVEN: Final = ("safety_check_passed", "worksheets_passed")
_FETCHED: Final = ("pieces_accounted_for", "paid_or_agreed")
_LEAVES: Final = ("closed_up_and_labelled", *_FETCHED)

# The stages in which the working clock stands still.
PAUSED: Final = frozenset({Stage.AWAITING_GO_AHEAD, Stage.AWAITING_PARTS, Stage.AWAITING_OTHER})
CLOSED: Final = frozenset({Stage.HANDED_BACK, Stage.DISPOSED})
UNREPAIRED: Final = frozenset({Stage.DECLINED, Stage.BEYOND_REPAIR})

TABLE: Final[dict[tuple[str, str], Change]] = {
    (Stage.BOOKED_IN, Stage.LOOKING_OVER): Change(_BENCH | _SYSTEM),
    (Stage.BOOKED_IN, Stage.DECLINED): Change(_DESK, needs_reason=True),
    (Stage.LOOKING_OVER, Stage.AWAITING_GO_AHEAD): Change(_STAFF | _SYSTEM),
    (Stage.LOOKING_OVER, Stage.ON_THE_BENCH): Change(_BENCH | _SYSTEM),
    (Stage.LOOKING_OVER, Stage.DECLINED): Change(_DESK, needs_reason=True),
    (Stage.LOOKING_OVER, Stage.BEYOND_REPAIR): Change(_BENCH, needs_reason=True),
    (Stage.AWAITING_GO_AHEAD, Stage.ON_THE_BENCH): Change(_DESK | _SYSTEM, needs_reason=True),
    (Stage.AWAITING_GO_AHEAD, Stage.LOOKING_OVER): Change(_BENCH, needs_reason=True),
    (Stage.AWAITING_GO_AHEAD, Stage.DECLINED): Change(_DESK | _SYSTEM, needs_reason=True),
    (Stage.ON_THE_BENCH, Stage.AWAITING_GO_AHEAD): Change(_STAFF | _SYSTEM),
    (Stage.ON_THE_BENCH, Stage.AWAITING_PARTS): Change(_BENCH),
    (Stage.ON_THE_BENCH, Stage.AWAITING_OTHER): Change(_BENCH, needs_reason=True),
    (Stage.ON_THE_BENCH, Stage.ON_TEST): Change(_BENCH | _SYSTEM),
    (Stage.ON_THE_BENCH, Stage.DECLINED): Change(_DESK, needs_reason=True),
    (Stage.ON_THE_BENCH, Stage.BEYOND_REPAIR): Change(_BENCH, needs_reason=True),
    (Stage.AWAITING_PARTS, Stage.ON_THE_BENCH): Change(_STAFF | _SYSTEM),
    (Stage.AWAITING_PARTS, Stage.DECLINED): Change(_DESK, needs_reason=True),
    (Stage.AWAITING_OTHER, Stage.ON_THE_BENCH): Change(_STAFF),
    (Stage.AWAITING_OTHER, Stage.DECLINED): Change(_DESK, needs_reason=True),
    (Stage.ON_TEST, Stage.ON_THE_BENCH): Change(_BENCH | _SYSTEM),
    (Stage.ON_TEST, Stage.AWAITING_GO_AHEAD): Change(_STAFF | _SYSTEM),
    (Stage.ON_TEST, Stage.READY): Change(_BENCH | _SYSTEM, _PROVEN),
    (Stage.READY, Stage.ON_THE_BENCH): Change(_STAFF, needs_reason=True),
    (Stage.READY, Stage.HANDED_BACK): Change(_DESK, _FETCHED),
    (Stage.READY, Stage.UNCLAIMED): Change(_DESK | _SYSTEM),
    (Stage.DECLINED, Stage.ON_THE_BENCH): Change(_DESK, needs_reason=True),
    (Stage.DECLINED, Stage.HANDED_BACK): Change(_DESK, _LEAVES),
    (Stage.DECLINED, Stage.UNCLAIMED): Change(_DESK | _SYSTEM),
    (Stage.BEYOND_REPAIR, Stage.ON_THE_BENCH): Change(_MANAGER, needs_reason=True),
    (Stage.BEYOND_REPAIR, Stage.HANDED_BACK): Change(_DESK, _LEAVES),
    (Stage.BEYOND_REPAIR, Stage.UNCLAIMED): Change(_DESK | _SYSTEM),
    (Stage.BEYOND_REPAIR, Stage.DISPOSED): Change(_MANAGER, needs_reason=True),
    (Stage.UNCLAIMED, Stage.HANDED_BACK): Change(_DESK, _LEAVES),
    (Stage.UNCLAIMED, Stage.DISPOSED): Change(_MANAGER, needs_reason=True),
}


def requirement(name: str) -> Callable[[Requirement], Requirement]:
    """Register what answers for one requirement of the table."""

    def register(answer: Requirement) -> Requirement:
        _requirements[name] = answer
        return answer

    return register


def role_of(person: Person | None) -> str:
    return SYSTEM if person is None else person.role


def missing(repair: Repair, change: Change) -> Iterator[tuple[str, str]]:
    """Each requirement of a change that is not fulfilled, with its sentence."""
    for name in change.requires:
        answer = _requirements.get(name)
        sentence = answer(repair) if answer else _("Nobody can vouch for this yet: %s.") % name
        if sentence:
            yield name, sentence


def require_allowed(repair: Repair, to: str, by: Person | None) -> Change:
    """The change from where the repair is now, or the reason why not.

    Raises StageNotAllowed, NotAllowed (the role), or the RequirementMissing of what is missing.
    """
    change = TABLE.get((repair.stage, to))
    if change is None:
        raise errors.StageNotAllowed(_refusal(repair, to))
    if role_of(by) not in change.roles:
        raise NotAllowed(_("Your role may not do this: %s.") % roles_in_words(change))
    for name, sentence in missing(repair, change):
        raise ERRORS.get(name, errors.RequirementMissing)(sentence, requirement=name)
    return change


def _refusal(repair: Repair, to: str) -> str:
    words = {"now": Stage(repair.stage).label, "to": Stage(to).label}
    return _("A repair that is “%(now)s” cannot become “%(to)s”.") % words


def roles_in_words(change: Change) -> str:
    """Who may, in words."""
    names = [str(role.label) for role in Role if role.value in change.roles]
    return _("it is done by: %s") % ", ".join(names)


def allowed_changes(repair: Repair, person: Person) -> list[tuple[str, str | None]]:
    """The stages this person may choose now, each with what it still requires."""
    found = []
    for (stage, to), change in TABLE.items():
        if stage == repair.stage and person.role in change.roles:
            sentences = " ".join(sentence for _name, sentence in missing(repair, change))
            found.append((str(to), sentences or None))
    return found


@requirement("pieces_accounted_for")
def pieces_accounted_for(repair: Repair) -> str | None:
    """Every loose piece goes back, or somebody said why not."""
    names = repair.unit.pieces.filter(state="here").values_list("name", flat=True)
    left = ", ".join(names)
    return _("Still to be ticked off: %s.") % left if left else None


@requirement("closed_up_and_labelled")
def closed_up_and_labelled(repair: Repair) -> str | None:
    """A unit that leaves unrepaired leaves closed up and labelled not safe to power."""
    if was_made_ready(repair) or (repair.closed_up_at and repair.unit.do_not_power):
        return None
    return _("Not repaired: close it up and label it as not safe to power, then say so here.")


def was_made_ready(repair: Repair) -> bool:
    """Whether the last verdict on this repair was "ready" (an unfetched unit may be either)."""
    verdicts = repair.events.filter(to_stage__in=[Stage.READY, *UNREPAIRED])
    last = verdicts.order_by("-at", "-id").values_list("to_stage", flat=True).first()
    return last == Stage.READY
