"""`python -m shop import_template [--check] [FILE ...]`; without a file, those that come along."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from shop.jobs.errors import TemplateFaulty
from shop.jobs.format import Problem, check_template, read_template
from shop.jobs.models import Draft, Origin
from shop.jobs.services import import_template
from shop.jobs.shipped import shipped_templates


class Command(BaseCommand):
    help = "Check job templates and publish those that changed, or offer them as drafts."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--check", action="store_true", help="only check")
        parser.add_argument("file", nargs="*", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        faulty = 0
        origin = Origin.IMPORTED if options["file"] else Origin.SHIPPED
        for file in options["file"] or shipped_templates():
            problems = self._take(file, origin, only_check=options["check"])
            faulty += bool(problems)
            for problem in problems:
                self.stderr.write(f"{file}: {problem}")
        if faulty:
            raise CommandError(f"{faulty} job templates have faults")

    def _take(self, file: Path, origin: str, *, only_check: bool) -> list[Problem]:
        try:
            content = file.read_bytes()
        except OSError as error:
            raise CommandError(f"{file}: {error.strerror}") from error
        if only_check:
            body, lines, problems = read_template(content)
            return problems or check_template(body, lines)
        try:
            taken = import_template(content=content, origin=origin)
        except TemplateFaulty as error:
            return error.problems
        if isinstance(taken, Draft):
            self.stdout.write(f"{file.name}: {taken.slug} was changed here; offered as a draft")
        else:
            self.stdout.write(f"{file.name}: {taken.template_id} revision {taken.number}")
        return []
