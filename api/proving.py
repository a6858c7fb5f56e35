"""Who is at the screen, proved by a password typed just now."""

from __future__ import annotations

from django.contrib.auth import authenticate
from django.utils.translation import gettext_lazy as _
from rest_framework.request import Request

from api.permissions import person_of
from shop.core.errors import ShopError
from shop.core.models import Person


class TooManyTries(ShopError):
    status = 429
    code = "too_many_tries"
    title = _("Too many wrong tries. Wait a quarter of an hour.")


class WrongPassword(ShopError):
    status = 403
    code = "wrong_password"
    title = _("Name or password is wrong.")


def person_with(request: Request, username: str, password: str) -> Person | None:
    """The person with this name and password, None if they do not fit. Raises TooManyTries."""
    person = authenticate(request._request, username=username, password=password)
    if getattr(request._request, "axes_locked_out", False):
        raise TooManyTries()
    return person if isinstance(person, Person) else None


def signer(request: Request, username: str | None, password: str) -> Person:
    """Who signs has just typed their password; the one signed in stays signed in.

    Raises WrongPassword, TooManyTries.
    """
    person = person_with(request, username or person_of(request).username, password)
    if person is None:
        raise WrongPassword()
    return person
