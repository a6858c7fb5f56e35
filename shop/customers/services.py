"""Writes of customers."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.core.idempotency import require_same
from shop.customers.models import Customer
from shop.customers.phones import phone_digits


@transaction.atomic
def add_customer(
    *, id: UUID, name: str, phone: str = "", email: str = "", language: str = "en"
) -> Customer:
    """Write a customer into the book, details as typed. A repeat returns the first result.

    Raises BadField for an empty name, an address that is none or a language the shop does not
    have, Conflict if the id has other content.
    """
    wanted = {"name": name.strip(), "phone": phone.strip(), "email": email.strip()}
    _check(language=language, **wanted)
    wanted["language"] = language
    fresh = {**wanted, "phone_digits": phone_digits(phone), "created_at": timezone.now()}
    customer, created = Customer.objects.get_or_create(id=id, defaults=fresh)
    return customer if created else require_same(customer, **wanted)


def _check(*, name: str, phone: str, email: str, language: str) -> None:
    if not name:
        raise BadField("name", _("A customer needs a name."), "blank")
    if language not in dict(settings.LANGUAGES):
        raise BadField("language", _("The shop does not write in this language."), "invalid_choice")
    if not email:
        return
    try:
        validate_email(email)
    except ValidationError as error:
        raise BadField("email", _("This is no mail address."), "invalid") from error
