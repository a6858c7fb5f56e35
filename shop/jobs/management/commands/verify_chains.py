"""`python -m shop verify_chains [RECORD ...]`: is every record as it was written?"""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.management.base import BaseCommand, CommandError, CommandParser

from shop.jobs.models import RecordHead
from shop.jobs.selectors import first_break_of


class Command(BaseCommand):
    help = "Check the hash chain of every record, or of those named."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("record", nargs="*", type=UUID)

    def handle(self, *args: Any, **options: Any) -> None:
        wanted = options["record"] or RecordHead.objects.values_list("record", flat=True)
        checked = broken = 0
        for record in list(wanted):
            checked += 1
            if found := first_break_of(record):
                broken += 1
                self.stderr.write(f"{found.record}, entry {found.seq}: {found.reason}")
        if broken:
            raise CommandError(f"{broken} of {checked} records do not hold")
        self.stdout.write(f"{checked} records hold")
