"""`python -m shop add_person anna --name "Anna" --role tech`: somebody who works here."""

from __future__ import annotations

import getpass
import sys
from typing import Any

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser

from shop.core.models import Person, Role
from shop.core.services import add_person


class Command(BaseCommand):
    help = "Add somebody who works here. The password is asked for, or read from standard input."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username")
        parser.add_argument("--name", required=True, help="as colleagues know them")
        parser.add_argument("--role", required=True, choices=Role.values)
        parser.add_argument("--language", default="en")

    def handle(self, *args: Any, **options: Any) -> None:
        if Person.objects.filter(username=options["username"]).exists():
            raise CommandError(f"There is a {options['username']} already.")
        person = add_person(
            username=options["username"],
            name=options["name"],
            role=options["role"],
            language=options["language"],
            password=self._password(),
        )
        self.stdout.write(f"{person.username} is in, as {person.get_role_display()}.")

    def _password(self) -> str:
        asked = getpass.getpass("Password: ") if sys.stdin.isatty() else sys.stdin.readline()
        password = asked.rstrip("\n")
        try:
            validate_password(password)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        return password
