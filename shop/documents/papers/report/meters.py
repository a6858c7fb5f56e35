"""The instruments behind the readings, and what the decision rules mean."""

from __future__ import annotations

from typing import Any

from django.utils.dateparse import parse_date
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from shop.documents.papers.common import Context
from shop.documents.papers.report.entries import judged, meter_name
from shop.jobs.models import Entry

UNJUDGED = {"", "not_judged"}
# ILAC-G8:09/2019 describes the rules; JCGM 100:2008 the uncertainty.
RULES = {
    "simple": gettext_lazy(
        "Simple: at or inside the limits is a pass. The risk of a wrong verdict near a limit is "
        "shared."
    ),
    "guarded": gettext_lazy(
        "Guarded: a pass lies inside the limits by at least the uncertainty of the meter (k = 2); "
        "between that and the limit the result is borderline."
    ),
    "non_binary": gettext_lazy(
        "Guarded on both sides: pass and fail lie beyond the uncertainty of the meter (k = 2); "
        "between them the result is borderline."
    ),
}


def meters_used(entries: list[Entry]) -> list[Context]:
    """Each meter once, in its state when it was first used here."""
    found: dict[Any, Context] = {}
    for entry in entries:
        if entry.meter_id and entry.meter_id not in found:
            found[entry.meter_id] = _meter(entry)
    return list(found.values())


def _meter(entry: Entry) -> Context:
    meter, state = entry.meter, entry.meter_state or {}
    due = state.get("due_on") or (meter.calibration_due_on if meter else None)
    on = parse_date(due) if isinstance(due, str) else due
    return {
        "name": meter_name(entry),
        "serial": meter.serial if meter else "",
        "due": date_format(on) if on else _("not known"),
        "is_overdue": bool(on and on < entry.made_at.date()),
    }


def rules_used(entries: list[Entry]) -> list[str]:
    """The decision rules of the readings on this report, in words."""
    used = {judged(entry).get("rule") for entry in entries if entry.verdict not in UNJUDGED}
    return [str(words) for rule, words in RULES.items() if rule in used]
