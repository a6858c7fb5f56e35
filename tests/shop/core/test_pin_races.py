"""Many guesses at the same moment get no more tries than one after the other."""

from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connections

from shop.core import pins
from shop.core.errors import ShopError
from shop.core.models import Pin
from tests.factories.core import PIN, PersonFactory, phone_of

pytestmark = [pytest.mark.postgresql, pytest.mark.django_db(transaction=True)]
AT_ONCE = 16


def at_once(works):
    """What each answers, or the code of its refusal; all begin together."""
    line = Barrier(len(works))

    def one(work):
        try:
            line.wait()
            return work()
        except ShopError as refusal:
            return refusal.code
        finally:
            connections.close_all()

    with ThreadPoolExecutor(len(works)) as threads:
        return list(threads.map(one, works))


@pytest.fixture
def looked(monkeypatch):
    """How often a PIN was really compared."""
    seen = []

    def check(pin, kept):
        seen.append(pin)
        return pins.make_password(pin, salt=kept.split("$")[1]) == kept

    monkeypatch.setattr(pins, "check_password", check)
    return seen


def test_guesses_at_once_are_compared_five_times_and_then_locked(looked):
    anna = PersonFactory()
    device, _key = phone_of(anna)
    guesses = [f"83{number:02}" for number in range(AT_ONCE)]

    said = at_once(
        [lambda g=g: pins.unlock(device=device, person_id=anna.id, pin=g) for g in guesses]
    )

    assert len(looked) == pins.TRIES_BEFORE_LOCK
    assert said.count("wrong_pin") <= pins.TRIES_BEFORE_LOCK
    # Those that counted their try before any was compared are all told that it is locked.
    assert "pin_locked" in said
    assert set(said) <= {"wrong_pin", "pin_locked"}
    assert Pin.objects.get().wrong_tries == pins.TRIES_BEFORE_LOCK


def test_guesses_at_once_after_the_lock_are_compared_five_times_more_and_then_it_is_gone(looked):
    anna = PersonFactory()
    device, _key = phone_of(anna)
    Pin.objects.update(wrong_tries=pins.TRIES_BEFORE_LOCK)

    said = at_once(
        [
            lambda n=n: pins.unlock(device=device, person_id=anna.id, pin=f"83{n:02}")
            for n in range(AT_ONCE)
        ]
    )

    assert len(looked) == pins.MOST_TRIES - pins.TRIES_BEFORE_LOCK
    assert "no_pin_here" in said
    assert not Pin.objects.exists()


def test_a_pin_withdrawn_while_it_is_compared_opens_nothing(monkeypatch):
    anna = PersonFactory()
    device, _key = phone_of(anna)

    def withdrawn_meanwhile(pin, kept):
        at_once([Pin.objects.all().delete])
        return pin == PIN

    monkeypatch.setattr(pins, "check_password", withdrawn_meanwhile)

    with pytest.raises(pins.NoPinHere):
        pins.unlock(device=device, person_id=anna.id, pin=PIN)


def test_two_pins_set_at_once_are_one():
    anna = PersonFactory()
    device, _key = phone_of(anna)
    Pin.objects.all().delete()

    at_once(
        [
            lambda n=n: pins.set_pin(device=device, person=anna, pin=f"83{n:02}")
            for n in range(10, 14)
        ]
    )

    assert Pin.objects.count() == 1
