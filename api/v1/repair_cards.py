"""A repair in full: what the apps know about it, put together for one screen."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AnonymousUser
from django.utils import timezone

from api.v1.documents import document_rows
from api.v1.estimates import estimate_row
from shop.billing.selectors import current_estimate, labour_minutes
from shop.core.models import Person
from shop.core.selectors import the_shop, why_no_public_url
from shop.customers.selectors import may_see_contacts
from shop.jobs.selectors import worksheet_row, worksheets_visible_to
from shop.repairs import clocks, stages
from shop.repairs.models import Repair, Stage
from shop.repairs.selectors import (
    earlier_visits,
    event_rows,
    photo_rows,
    repair_rows,
    repairs_visible_to,
    row_values,
    stage_marks,
    status_url,
)
from shop.units.selectors import unit_card, units_visible_to


def repair_card(repair: Repair, person: Person) -> dict[str, Any]:
    """The answer of `GET repairs/{id}/`, as far as this person may see it."""
    (row,) = repair_rows(row_values(repairs_visible_to(person).filter(id=repair.id), person))
    return {
        **row,
        **_facts(repair),
        **_clocks(repair),
        "unit": unit_card(units_visible_to(person).get(id=repair.unit_id)),
        "customer": _contact(repair, person),
        "events": event_rows(repair),
        "allowed_stages": _allowed_stages(repair, person),
        "worksheets": worksheet_rows(repair, person),
        "documents": document_rows(repair, person),
        "photos": photo_rows(repair),
        "estimate": _estimate(repair),
        "history": earlier_visits(repair),
    }


def status_link(repair: Repair) -> dict[str, str]:
    """The link for the receipt, or why there is none."""
    url = status_url(repair)
    return {"url": url} if url else {"missing": why_no_public_url() or ""}


def _facts(repair: Repair) -> dict[str, Any]:
    shop = the_shop()
    set_for = {"volt": repair.set_for_volt, "hz": repair.set_for_hz}
    allowed = ("diagnosis_fee_minor", "spending_limit_minor", "visible_changes", "sounds")
    plain = ("complaint", "last_worked", "last_supply", "damage", "version", "booked_in_at")
    return {
        **{name: getattr(repair, name) for name in (*plain, "closed_up_at")},
        "booked_in_by": str(repair.booked_in_by),
        "set_for": set_for if any(set_for.values()) else None,
        "use_at": {
            "volt": repair.use_at_volt,
            "hz": repair.use_at_hz,
            "country": repair.use_at_country,
        },
        "bench_supply": {"volt": shop.bench_volt, "hz": shop.bench_hz},
        "allowed": {name: getattr(repair, name) for name in allowed},
    }


def _clocks(repair: Repair) -> dict[str, Any]:
    now, marks = timezone.now(), stage_marks(repair)
    return {
        "labour_minutes": labour_minutes(repair),
        "elapsed_days": clocks.in_days(clocks.elapsed(marks, now)),
        "working_days": clocks.in_days(clocks.working(marks, now)),
    }


def _contact(repair: Repair, person: Person | AnonymousUser) -> dict[str, Any] | None:
    if not may_see_contacts(person):
        return None
    customer = repair.customer
    return {name: getattr(customer, name) for name in ("id", "name", "phone", "email")}


def _allowed_stages(repair: Repair, person: Person) -> list[dict[str, Any]]:
    return [
        {
            "to": to,
            "label": str(Stage(to).label),
            "requires": requires,
            "needs_reason": stages.TABLE[repair.stage, to].needs_reason,
        }
        for to, requires in stages.allowed_changes(repair, person)
    ]


def worksheet_rows(repair: Repair, person: Person) -> list[dict[str, Any]]:
    """The worksheets of a repair, oldest first."""
    found = worksheets_visible_to(person).filter(repair=repair).order_by("opened_at", "id")
    return [worksheet_row(worksheet) for worksheet in found]


def _estimate(repair: Repair) -> dict[str, Any] | None:
    estimate = current_estimate(repair)
    return estimate_row(estimate) if estimate else None
