"""Entries as a report tells them: those that stand, in the order of their records."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import RULES
from shop.calc.readings import format_reading
from shop.documents.papers.common import Context, short_time
from shop.documents.papers.report.verdicts import verdict_mark
from shop.jobs.models import Entry, Worksheet
from shop.jobs.selectors import effective_entries
from shop.repairs.models import Repair

LIMIT_DIGITS = 4


def standing_entries(repair: Repair, sheets: Sequence[Worksheet]) -> list[Entry]:
    """What stands in the bench log and in each worksheet, corrections followed."""
    records = [repair.id, *(sheet.id for sheet in sheets)]
    return [entry for record in records for entry, _before in effective_entries(record)]


def judged(entry: Entry) -> dict[str, Any]:
    """Limits, rule, uncertainty and verdict as the server kept them beside the reading."""
    kept: dict[str, Any] = entry.value.get("judged") or {}
    return kept


def amount(value: float | str, unit: str, digits: int | None = None) -> str:
    """A value in SI units as a person reads it: 0.16 in A as `160 mA`."""
    text = f"{Decimal(repr(value) if isinstance(value, float) else str(value)):f}"
    # Quantities of one unit are written alike, so that any of them will do.
    quantity = next((quantity for quantity, rule in RULES.items() if rule.unit == unit), None)
    return format_reading(text, quantity, digits) if quantity else f"{text} {unit}"


def reading_text(entry: Entry) -> str:
    """What the meter said, or that it said nothing."""
    match entry.value.get("state"):
        case "over_range":
            return _("over range")
        case "not_measured":
            return _("not measured")
    if entry.value_text:
        return amount(entry.value_text, entry.unit)
    return f"{entry.value.get('as_typed', '')} {entry.unit}".strip()


def limits_text(entry: Entry) -> str:
    """The limits used at the time; open ones in words, so that no sign can be lost."""
    low, high = (judged(entry).get(edge) for edge in ("low", "high"))
    shown = {
        name: amount(float(edge), entry.unit, LIMIT_DIGITS)
        for name, edge in (("low", low), ("high", high))
        if edge is not None
    }
    if high is not None and low == 0 and _is_never_below_zero(entry):
        del shown["low"]  # beside an upper limit it says nothing
    match sorted(shown):
        case ["high", "low"]:
            return _("%(low)s to %(high)s") % shown
        case ["high"]:
            return _("at most %(high)s") % shown
        case ["low"]:
            return _("at least %(low)s") % shown
    return _("none")


def _is_never_below_zero(entry: Entry) -> bool:
    quantity = entry.value.get("quantity")
    return quantity in RULES and RULES[quantity].lowest >= 0


def reading_row(entry: Entry, title: str) -> Context:
    """One line of a table of readings."""
    spread = judged(entry).get("expanded_uncertainty")
    return {
        "title": title,
        "value": reading_text(entry),
        "spread": f"± {amount(float(spread), entry.unit, 2)}" if spread else "",
        "limits": limits_text(entry),
        "verdict": verdict_mark(entry.verdict),
        "meter": _read_on(entry),
        **made(entry),
    }


def _read_on(entry: Entry) -> str:
    """The meter, and whether its reading was taken as it said it rather than typed."""
    name = meter_name(entry)
    is_taken = bool(entry.value.get("instrument"))
    return _("%(meter)s, taken from the instrument") % {"meter": name} if is_taken else name


def made(entry: Entry) -> Context:
    return {"by": str(entry.made_by), "at": short_time(entry.made_at)}


def meter_name(entry: Entry) -> str:
    state: dict[str, Any] = entry.meter_state or {}
    return str(state.get("name") or (entry.meter.name if entry.meter else ""))
