"""Ways of saying no. Each has a stable code; the title is for people and may change."""

from __future__ import annotations

from typing import Any, ClassVar

from django.utils.translation import gettext_lazy as _


class ShopError(Exception):
    """A rule said no. `detail` is one sentence for the person at the screen."""

    status: ClassVar[int] = 409
    code: ClassVar[str] = "refused"
    title: ClassVar[Any] = _("This is not possible now.")

    def __init__(self, detail: object = "", **facts: object) -> None:
        super().__init__(str(detail))
        self.detail = detail or self.title
        self.facts = facts


class BadField(ShopError):
    """One field cannot be used. `field` is its path in what was sent."""

    status = 400
    code = "bad_input"
    title = _("Something that was sent cannot be used.")

    def __init__(self, field: str, detail: object, code: str = "bad_input") -> None:
        super().__init__(detail)
        self.field = field
        self.field_code = code


class Conflict(ShopError):
    """The same id was sent before with other content."""

    code = "other_content"
    title = _("This was sent before with other content.")


class Stale(ShopError):
    """Somebody else changed it since it was read."""

    status = 412
    code = "stale"
    title = _("Somebody else changed this meanwhile. Look again.")


class IfMatchMissing(ShopError):
    status = 428
    code = "if_match_missing"
    title = _("The change must say which state it was based on (If-Match).")


class NotAllowed(ShopError):
    """The role may not do this."""

    status = 403
    code = "not_your_role"
    title = _("Your role may not do this.")


class NotFound(ShopError):
    status = 404
    code = "not_found"
    title = _("There is no such thing here.")
