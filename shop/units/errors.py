"""Ways in which units and their places are refused."""

from django.utils.translation import gettext_lazy as _

from shop.core.errors import NotFound, ShopError


class UnknownCode(NotFound):
    code = "unknown_code"
    title = _("Nothing here has this code.")


class BadCode(ShopError):
    status = 400
    code = "bad_code"
    title = _("This is no code of this shop.")


class PiecesMissing(ShopError):
    code = "pieces_missing"
    title = _("Not every loose piece was ticked off.")


class SheetExists(ShopError):
    code = "model_sheet_exists"
    title = _("There is a model sheet of this make and model already.")
