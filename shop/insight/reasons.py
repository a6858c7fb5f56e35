"""Why a repair does not move, in words. Pure: what is known about it goes in, a sentence comes out.

The limits are habits of the trade, common practice without a source: a shop that works by
appointment may want others.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from enum import IntEnum
from typing import Final

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from shop.repairs.models import Stage

DAYS_BEFORE_LOOKING: Final = 3
DAYS_WITHOUT_ENTRY: Final = 5
DAYS_WITHOUT_ANSWER: Final = 5
DAYS_WITHOUT_ESTIMATE: Final = 2
DAYS_OUTSIDE: Final = 7
DAYS_ON_TEST: Final = 3
DAYS_NOT_FETCHED: Final = 14


@dataclass(frozen=True)
class Situation:
    """What is known about one open repair."""

    stage: str
    stage_since: datetime
    due_on: date | None = None
    is_assigned: bool = True
    stage_reason: str = ""
    last_entry_at: datetime | None = None
    estimate_sent_at: datetime | None = None
    has_estimate: bool = False
    sign_off_missing_in: str = ""  # title of the worksheet
    orders: tuple[str, ...] = ()  # what became of the parts it waits for, in words
    is_all_ordered: bool = False  # every one of those orders is with its supplier
    not_told_why: str = ""


def why_stuck(repair: Situation, *, now: datetime, today: date) -> str | None:
    """One sentence that names what is in the way, or None while all goes well."""
    rule = RULES.get(repair.stage)
    return (rule(repair, now) if rule else None) or _overdue(repair, today)


class Turn(IntEnum):
    """Who has to move, in the order in which a manager wants to read of it."""

    SHOP = 0
    OTHERS = 1
    CUSTOMER_FETCHES = 2


def whose_turn(repair: Situation) -> Turn:
    """Whether the shop itself can get a stuck repair to move."""
    if repair.stage in NOT_OURS:
        return Turn.SHOP if repair.not_told_why else Turn.CUSTOMER_FETCHES
    waits = {
        Stage.AWAITING_GO_AHEAD: repair.estimate_sent_at is not None,
        Stage.AWAITING_PARTS: repair.is_all_ordered,
        Stage.AWAITING_OTHER: True,
    }
    return Turn.OTHERS if waits.get(Stage(repair.stage)) else Turn.SHOP


def days_between(since: datetime, now: datetime) -> int:
    """Whole days gone by."""
    return max((now - since).days, 0)


def in_days(days: int) -> str:
    return ngettext("%(days)d day", "%(days)d days", days) % {"days": days}


def _booked_in(repair: Situation, now: datetime) -> str | None:
    days = days_between(repair.stage_since, now)
    if days < DAYS_BEFORE_LOOKING:
        return None
    return _("booked in for %(days)s and not looked over yet") % {"days": in_days(days)}


def _waiting_for_go_ahead(repair: Situation, now: datetime) -> str | None:
    if repair.estimate_sent_at is not None:
        days = days_between(repair.estimate_sent_at, now)
        if days < DAYS_WITHOUT_ANSWER:
            return None
        return _("no answer to the estimate for %(days)s") % {"days": in_days(days)}
    days = days_between(repair.stage_since, now)
    if days < DAYS_WITHOUT_ESTIMATE or repair.has_estimate:
        return None
    return _("waiting for a go-ahead for %(days)s, but no estimate was sent") % {
        "days": in_days(days)
    }


def _waiting_for_parts(repair: Situation, now: datetime) -> str:
    words = {"days": in_days(days_between(repair.stage_since, now))}
    sentence = _("waiting for parts for %(days)s") % words
    if repair.stage_reason:
        sentence = f"{sentence} ({repair.stage_reason})"
    orders = repair.orders or (_("no order names them"),)
    return ", ".join([sentence, *orders])


def _waiting_outside(repair: Situation, now: datetime) -> str | None:
    days = days_between(repair.stage_since, now)
    if days < DAYS_OUTSIDE:
        return None
    sentence = _("waiting for an answer from outside for %(days)s") % {"days": in_days(days)}
    return f"{sentence}: {repair.stage_reason}" if repair.stage_reason else sentence


def _at_the_bench(repair: Situation, now: datetime) -> str | None:
    if repair.sign_off_missing_in:
        return _("sign-off missing in “%(title)s”") % {"title": repair.sign_off_missing_in}
    quiet_since = max(filter(None, [repair.last_entry_at, repair.stage_since]))
    days = days_between(quiet_since, now)
    if days < DAYS_WITHOUT_ENTRY:
        return None
    if not repair.is_assigned:
        return _("nobody has it, no entry for %(days)s on the bench") % {"days": in_days(days)}
    return _("no entry for %(days)s on the bench") % {"days": in_days(days)}


def _on_test(repair: Situation, now: datetime) -> str | None:
    if repair.sign_off_missing_in:
        return _at_the_bench(repair, now)
    days = days_between(repair.stage_since, now)
    if days < DAYS_ON_TEST:
        return None
    return _("on test for %(days)s, the safety check is not finished") % {"days": in_days(days)}


def _ready(repair: Situation, now: datetime) -> str | None:
    if repair.not_told_why:
        return _("the customer was not told: %(why)s") % {"why": repair.not_told_why}
    return _not_fetched(repair, now)


def _not_fetched(repair: Situation, now: datetime) -> str | None:
    days = days_between(repair.stage_since, now)
    if days < DAYS_NOT_FETCHED:
        return None
    return _("not fetched for %(days)s") % {"days": in_days(days)}


def _overdue(repair: Situation, today: date) -> str | None:
    if repair.due_on is None or repair.due_on >= today or repair.stage in NOT_OURS:
        return None
    return _("promised for %(days)s ago") % {"days": in_days((today - repair.due_on).days)}


# There the customer has to move, and the promised day is past anyway.
NOT_OURS: Final = frozenset({Stage.READY, Stage.DECLINED, Stage.BEYOND_REPAIR, Stage.UNCLAIMED})

RULES: Final[dict[str, Callable[[Situation, datetime], str | None]]] = {
    Stage.BOOKED_IN: _booked_in,
    Stage.LOOKING_OVER: _at_the_bench,
    Stage.AWAITING_GO_AHEAD: _waiting_for_go_ahead,
    Stage.ON_THE_BENCH: _at_the_bench,
    Stage.AWAITING_PARTS: _waiting_for_parts,
    Stage.AWAITING_OTHER: _waiting_outside,
    Stage.ON_TEST: _on_test,
    Stage.READY: _ready,
    Stage.DECLINED: _not_fetched,
    Stage.BEYOND_REPAIR: _not_fetched,
    Stage.UNCLAIMED: _not_fetched,
}
