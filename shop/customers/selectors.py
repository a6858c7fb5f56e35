"""Reads of customers. Only the desk and the manager see how to reach them."""

from __future__ import annotations

from django.contrib.auth.models import AnonymousUser
from django.db.models import Q, QuerySet

from shop.core.models import Person, Role
from shop.core.words import text_matches
from shop.customers.models import Customer
from shop.customers.phones import phone_scrap

CONTACT_ROLES = frozenset({Role.DESK.value, Role.MANAGER.value})


def may_see_contacts(person: Person | AnonymousUser) -> bool:
    """Whether somebody sees telephone numbers and mail addresses of customers."""
    return bool(person.is_active and getattr(person, "role", "") in CONTACT_ROLES)


def customers_visible_to(person: Person | AnonymousUser) -> QuerySet[Customer]:
    """All customers for the desk and the manager, none for everybody else."""
    return Customer.objects.all() if may_see_contacts(person) else Customer.objects.none()


def contact_matches(scrap: str, at: str = "") -> Q:
    """Customers that a scrap of a name, mail address or telephone number fits.

    `at` is the way to the customer, for example "customer__".
    """
    found = text_matches(scrap, f"{at}name", f"{at}email")
    digits = phone_scrap(scrap)
    return found | Q(**{f"{at}phone_digits__contains": digits}) if digits else found
