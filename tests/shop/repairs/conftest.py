"""What later apps vouch for, as a test needs it."""

import pytest

from shop.repairs import stages


@pytest.fixture
def vouched(monkeypatch):
    """Every requirement that a later app answers for is fulfilled."""
    for name in ("safety_check_passed", "worksheets_passed", "paid_or_agreed"):
        monkeypatch.setitem(stages._requirements, name, lambda repair: None)


@pytest.fixture
def says_no(monkeypatch):
    """`says_no(name, sentence)`: one requirement is not fulfilled."""

    def refuse(name, sentence="Not yet."):
        monkeypatch.setitem(stages._requirements, name, lambda repair: sentence)

    return refuse
