"""Where a repair stands, as a sentence a person would say."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from shop.repairs.models import Stage

# These stages say by their own words for whom a repair waits.
SAY_FOR_WHOM = (Stage.AWAITING_GO_AHEAD, Stage.AWAITING_PARTS, Stage.AWAITING_OTHER)


def waiting_for(stage: str) -> str | None:
    """Who or what a repair waits for, or None when it waits for nobody."""
    words = {
        Stage.BOOKED_IN: _("a tech"),
        Stage.AWAITING_GO_AHEAD: _("the customer"),
        Stage.AWAITING_PARTS: _("parts"),
        Stage.AWAITING_OTHER: _("an answer from outside"),
        Stage.READY: _("the customer"),
        Stage.DECLINED: _("the customer"),
        Stage.BEYOND_REPAIR: _("the customer"),
        Stage.UNCLAIMED: _("the customer"),
    }
    return words.get(Stage(stage))


def stage_words(stage: str, since: datetime, today: date, zone: ZoneInfo) -> str:
    """For example "booked in today, waiting for a tech", "on the bench since Tuesday"."""
    words = {"stage": Stage(stage).label, "day": day_words(since.astimezone(zone).date(), today)}
    if stage in (Stage.HANDED_BACK, Stage.DISPOSED):
        return _("%(stage)s %(day)s") % words
    whom = waiting_for(stage)
    if whom is None or stage in SAY_FOR_WHOM:
        return _("%(stage)s since %(day)s") % words
    words["whom"] = whom
    if stage == Stage.BOOKED_IN:  # something that was done that day, not a state that lasts
        return _("%(stage)s %(day)s, waiting for %(whom)s") % words
    return _("%(stage)s since %(day)s, waiting for %(whom)s") % words


def day_words(day: date, today: date) -> str:
    """A day as people near it say it: today, yesterday, a weekday, else the date."""
    ago = (today - day).days
    if ago == 0:
        return _("today")
    if ago == 1:
        return _("yesterday")
    if 1 < ago < 7:
        return date_format(day, "l")
    return date_format(day, "MONTH_DAY_FORMAT" if day.year == today.year else "DATE_FORMAT")


def outcome_words(outcome: str) -> str:
    """How a visit ended, in words; what a person wrote stays as written."""
    words = {
        "repaired": _("repaired"),
        "unrepaired": _("handed back unrepaired"),
        "disposed": _("disposed of"),
    }
    return words.get(outcome, outcome)
