"""Who may do what. Deny by default: each viewset names its permission."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rest_framework.exceptions import NotAuthenticated
from rest_framework.permissions import BasePermission
from rest_framework.request import Request

from shop.core.models import Person, Role

if TYPE_CHECKING:  # the settings name this module, and views read the settings
    from rest_framework.views import APIView


def person_of(request: Request) -> Person:
    """Who is asking. Behind any permission of this module it is a person."""
    if not isinstance(request.user, Person):
        raise NotAuthenticated()
    return request.user


class Nobody(BasePermission):
    """The default: a viewset that forgot to name its permission is closed."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        return False


class IsStaff(BasePermission):
    """Anybody who works here and is signed in."""

    roles: frozenset[str] = frozenset(Role.values)

    def has_permission(self, request: Request, view: APIView) -> bool:
        person = request.user
        return bool(person.is_authenticated and person.is_active and person.role in self.roles)


class IsDesk(IsStaff):
    roles = frozenset({Role.DESK, Role.MANAGER})


class IsBench(IsStaff):
    roles = frozenset({Role.TECH, Role.MANAGER})


class IsManager(IsStaff):
    roles = frozenset({Role.MANAGER})
