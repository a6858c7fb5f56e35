"""What somebody typed to look for something."""

from __future__ import annotations

from django.utils.translation import gettext as _
from rest_framework.request import Request

from shop.core.errors import BadField

MAX_SCRAP = 200


def scrap_in(request: Request) -> str:
    """The `q` of an address, or "". Raises BadField for what is too long or no text."""
    scrap = request.query_params.get("q", "").strip()
    if len(scrap) > MAX_SCRAP:
        raise BadField("q", _("This is too long to look for."), "max_length")
    if "\0" in scrap:  # PostgreSQL takes no such text
        raise BadField("q", _("This is no text."), "invalid")
    return scrap
