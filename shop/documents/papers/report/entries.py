"""Entries as a report tells them: those that stand, in the order of their records."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import Quantity
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


def amount(value: float | str, quantity: str, digits: int | None = None) -> str:
    """A value in SI units as a person reads it: 0.16 as `160 mA`."""
    text = f"{Decimal(repr(value) if isinstance(value, float) else str(value)):f}"
    return format_reading(text, Quantity(quantity), digits)


def reading_text(entry: Entry) -> str:
    """What the meter said, or that it said nothing."""
    match entry.value.get("state"):
        case "over_range":
            return _("over range")
        case "not_measured":
            return _("not measured")
    quantity, text = entry.value.get("quantity"), entry.value_text or entry.value.get("value_text")
    if text and quantity in set(Quantity):
        return amount(text, quantity)
    return f"{entry.value.get('as_typed', '')} {entry.unit}".strip()


def limits_text(entry: Entry) -> str:
    """The limits used at the time; open ones in words, so that no sign can be lost."""
    low, high = entry.value.get("low"), entry.value.get("high")
    quantity = entry.value.get("quantity")
    if quantity not in set(Quantity) or (low is None and high is None):
        return _("none")
    shown = [None if edge is None else amount(edge, quantity, LIMIT_DIGITS) for edge in (low, high)]
    words = {"low": shown[0], "high": shown[1]}
    if low is None:
        return _("at most %(high)s") % words
    if high is None:
        return _("at least %(low)s") % words
    return _("%(low)s to %(high)s") % words


def reading_row(entry: Entry, title: str) -> Context:
    """One line of a table of readings."""
    spread = entry.value.get("expanded_uncertainty")
    quantity = entry.value.get("quantity")
    known = spread and quantity in set(Quantity)
    return {
        "title": title,
        "value": reading_text(entry),
        "spread": f"± {amount(float(spread), quantity, 2)}" if known else "",
        "limits": limits_text(entry),
        "verdict": verdict_mark(entry.verdict or entry.value.get("verdict")),
        "meter": meter_name(entry),
        **made(entry),
    }


def made(entry: Entry) -> Context:
    return {"by": str(entry.made_by), "at": short_time(entry.made_at)}


def meter_name(entry: Entry) -> str:
    state: dict[str, Any] = entry.meter_state or {}
    return str(state.get("name") or (entry.meter.name if entry.meter else ""))
