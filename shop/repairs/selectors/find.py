"""Find anything by any scrap of it."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.models import AnonymousUser
from django.db.models import Case, Q, When

from shop.calc.codes import normalise
from shop.core.models import Person
from shop.core.words import text_matches
from shop.customers.selectors import contact_matches, customers_visible_to
from shop.repairs.selectors.rows import number_in, repair_rows, repairs_matching, row_values
from shop.units.selectors import unit_card, units_visible_to

MOST = {"repair": 10, "customer": 5, "unit": 5}
CUSTOMER_FIELDS = ("id", "name", "phone", "email", "language")


def find(scrap: str, person: Person | AnonymousUser) -> list[dict[str, Any]]:
    """At most 20 repairs, customers and units that a scrap fits, newest first. None for ""."""
    scrap = scrap.strip()
    if not scrap:
        return []
    return [*_repairs(scrap, person), *_customers(scrap, person), *_units(scrap, person)]


def _repairs(scrap: str, person: Person | AnonymousUser) -> list[dict[str, Any]]:
    # The one that has this number comes first, however many hold the same digits elsewhere.
    is_it = Case(When(number=number_in(scrap), then=0), default=1)
    repairs = repairs_matching(scrap, person).order_by(is_it, "-booked_in_at", "-id")
    rows = repair_rows(row_values(repairs, person)[: MOST["repair"]])
    return [{"kind": "repair", "repair": row} for row in rows]


def _customers(scrap: str, person: Person | AnonymousUser) -> list[dict[str, Any]]:
    customers = customers_visible_to(person).filter(contact_matches(scrap)).order_by("name", "id")
    rows = customers.values(*CUSTOMER_FIELDS)[: MOST["customer"]]
    return [{"kind": "customer", "customer": row} for row in rows]


def _units(scrap: str, person: Person | AnonymousUser) -> list[dict[str, Any]]:
    code = normalise(scrap)
    found = text_matches(scrap, "make", "model", "serial", "code")
    found |= Q(code=code)
    units = units_visible_to(person).filter(found).order_by("-id")[: MOST["unit"]]
    return [{"kind": "unit", "unit": unit_card(unit)} for unit in units]
