"""`python -m shop load_demo`: an invented shop to try things on. Twice changes nothing."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from shop.insight.demo import LOGINS, load_demo
from shop.insight.demo.load import BooksInUse


class Command(BaseCommand):
    help = "Load the invented shop into empty books and print its logins."

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            is_new = load_demo(now=timezone.now())
        except BooksInUse as refused:
            raise CommandError(str(refused.detail)) from refused
        self.stdout.write("The demo shop is loaded." if is_new else "The demo shop is there.")
        for login in LOGINS:
            self.stdout.write(f"login: {login.username} {login.password} {login.role}")
