"""Why money or an answer cannot be taken."""

from __future__ import annotations

from django.utils.translation import gettext_lazy as _

from shop.core.errors import ShopError


class EstimateNotDraft(ShopError):
    code = "estimate_not_draft"
    title = _("Only a draft can be sent. Make a new estimate to change one that was sent.")


class EstimateNotOpen(ShopError):
    code = "estimate_not_open"
    title = _("This estimate waits for no answer.")


class StageHasNoEstimate(ShopError):
    code = "estimate_not_possible"
    title = _("An estimate is sent while the unit is looked over, on the bench or on test.")


class NothingToInvoice(ShopError):
    code = "nothing_to_invoice"
    title = _("There is nothing to invoice.")


class NotPaid(ShopError):
    code = "not_paid"
    title = _("What is due must be paid, or waived with a reason, before the unit goes back.")
