"""`python -m shop verify_stock`: does each bin's total equal the sum of its moves?"""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError

from shop.stock.models import StockLevel
from shop.stock.selectors import check_levels


class Command(BaseCommand):
    help = "Compare the total of every bin with the sum of its moves."

    def handle(self, *args: Any, **options: Any) -> None:
        wrong = check_levels()
        for row in wrong:
            self.stderr.write("{part} in {bin}: books {on_hand}, moves {moves}".format(**row))
        if wrong:
            raise CommandError(f"{len(wrong)} bins differ from their moves")
        self.stdout.write(f"{StockLevel.objects.count()} bins equal the sum of their moves")
