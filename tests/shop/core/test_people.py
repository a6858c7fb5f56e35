"""Adding people by command."""

import io

import pytest
from django.core.management import CommandError, call_command

from shop.core.models import Person

pytestmark = pytest.mark.django_db


def add(monkeypatch, password, *words):
    monkeypatch.setattr("sys.stdin", io.StringIO(password + "\n"))
    call_command("add_person", *words)


def test_a_manager_is_added_and_may_use_the_admin(monkeypatch):
    add(monkeypatch, "a long enough phrase", "mara", "--name", "Mara", "--role", "manager")

    mara = Person.objects.get(username="mara")
    assert mara.role == "manager"
    assert mara.is_staff
    assert mara.check_password("a long enough phrase")


def test_a_short_password_is_refused_and_nobody_is_added(monkeypatch):
    with pytest.raises(CommandError, match="too short"):
        add(monkeypatch, "short", "mara", "--name", "Mara", "--role", "desk")

    assert not Person.objects.exists()


def test_a_name_that_is_taken_is_refused(monkeypatch, anna):
    with pytest.raises(CommandError, match="already"):
        add(monkeypatch, "a long enough phrase", "anna", "--name", "Anna", "--role", "tech")
