"""How much one template may make: loops in loops multiply, and would fill the machine."""

from __future__ import annotations

from django.utils.translation import gettext as _

from shop.jobs.errors import Gate

MOST = 50_000
# What is slower to make or longer to keep than one row counts for more.
STEP = CALCULATION = 10
LETTERS = 100  # so many count as one row


class Patience:
    """Counts the rows, cells, steps, calculations and letters of one pack."""

    def __init__(self) -> None:
        self.left = MOST

    def spend(self, count: int) -> None:
        """Raises Gate once there is more than a worksheet can hold."""
        self.left -= count
        if self.left < 0:
            raise Gate(_("This job template makes more here than a worksheet can hold."))
