"""Ways in which stock says no."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.core.errors import ShopError


class NoSuchPart(ShopError):
    code = "no_such_part"
    title = _("No part has this code.")


class NotEnoughStock(ShopError):
    code = "not_enough_stock"
    title = _("There are too few free pieces in this bin.")


class NotTaken(ShopError):
    code = "not_taken"
    title = _("So many pieces were not taken for this repair.")


class MoveNotPossible(ShopError):
    code = "move_not_possible"
    title = _("Pieces do not go this way.")


class RepairClosed(ShopError):
    code = "repair_closed"
    title = _("This repair is closed.")


class OrderStageNotAllowed(ShopError):
    code = "order_stage_not_allowed"
    title = _("The order is not at this point.")


class OrderEmpty(ShopError):
    code = "order_empty"
    title = _("The order has no lines.")
