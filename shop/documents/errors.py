"""Why a paper could not be made."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.core.errors import ShopError


class DocumentError(ShopError):
    """A paper could not be drawn: an asset, a picture or a fact it needs is missing."""

    code = "document_not_drawn"
    title = _("This paper could not be drawn.")


class NotDrawnYet(ShopError):
    """The paper is asked for but its PDF is still being drawn."""

    code = "document_not_ready"
    title = _("This paper is still being drawn. Try again in a moment.")
