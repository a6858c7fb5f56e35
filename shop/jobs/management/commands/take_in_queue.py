"""`python -m shop take_in_queue FILE --by USERNAME`: unsent entries of a phone that cannot send."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from shop.core.errors import ShopError
from shop.core.models import Person
from shop.jobs.services import take_in_queue


class Command(BaseCommand):
    help = "Take in the file of unsent entries that a phone saved, each under its maker's name."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--by", required=True, help="the manager who takes it in: username")

    def handle(self, *args: Any, **options: Any) -> None:
        by = Person.objects.filter(username=options["by"]).first()
        if by is None:
            raise CommandError(f"nobody here is called {options['by']}")
        try:
            taken = take_in_queue(content=options["file"].read_bytes(), by=by)
        except OSError as error:
            raise CommandError(f"{options['file']}: {error.strerror}") from error
        except ShopError as error:
            raise CommandError(str(error.detail)) from error
        for result in taken.results:
            if result.outcome == "refused":
                self.stderr.write(f"refused {result.id}: {result.code}: {result.detail}")
        self.stdout.write(
            f"{taken.count('applied')} taken in, {taken.count('repeated')} were here already, "
            f"{taken.count('refused')} refused; {taken.photos} photos"
        )
