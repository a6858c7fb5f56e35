"""The outbox loses nothing and doubles nothing."""

from datetime import timedelta

import pytest
from django.db import transaction
from django.utils import timezone

from shop.core import outbox
from shop.core.models import OutboxEvent

pytestmark = pytest.mark.django_db


@pytest.fixture
def done(monkeypatch):
    """A handler that writes down what it did."""
    calls = []
    monkeypatch.setitem(outbox._handlers, "test.note", lambda **payload: calls.append(payload))
    return calls


def test_work_recorded_in_a_change_is_done_once(done):
    with transaction.atomic():
        outbox.record("test.note", number=1)

    outbox.sweep()
    outbox.sweep()

    assert done == [{"number": 1}]
    assert OutboxEvent.objects.get().done_at is not None


def test_work_of_a_change_that_failed_is_never_done(done):
    def change():
        with transaction.atomic():
            outbox.record("test.note", number=1)
            raise RuntimeError("the change failed")

    with pytest.raises(RuntimeError):
        change()

    outbox.sweep()

    assert done == []


def test_the_same_key_is_the_same_work(done):
    outbox.record("test.note", key="ready:1", number=1)
    outbox.record("test.note", key="ready:1", number=1)

    outbox.sweep()

    assert len(done) == 1


def test_a_row_leased_by_a_worker_that_died_is_taken_again_after_its_lease(done):
    outbox.record("test.note", number=1)
    now = timezone.now()
    assert outbox.claim(now=now) is not None  # and the worker is killed here

    assert outbox.claim(now=now + timedelta(seconds=1)) is None
    taken_again = outbox.claim(now=now + timedelta(seconds=3600))

    assert taken_again is not None
    assert taken_again.tries == 2


def test_work_that_fails_five_times_is_dead_and_shown_until_a_person_tries_again(monkeypatch, done):
    def fail(**payload):
        raise ValueError("no paper")

    monkeypatch.setitem(outbox._handlers, "test.fail", fail)
    outbox.record("test.fail")
    for _ in range(outbox.MAX_TRIES):
        OutboxEvent.objects.update(due_at=timezone.now())
        outbox.sweep()

    dead = OutboxEvent.objects.get()
    assert dead.dead_at is not None
    assert "no paper" in dead.last_error

    monkeypatch.setitem(outbox._handlers, "test.fail", lambda **payload: None)
    outbox.try_again(id=dead.id)
    outbox.sweep()

    dead.refresh_from_db()
    assert dead.done_at is not None


def test_a_transaction_with_much_work_wakes_the_worker_once(
    done, django_capture_on_commit_callbacks
):
    with django_capture_on_commit_callbacks() as wake_ups, transaction.atomic():
        for number in range(5):
            outbox.record("test.note", number=number)

    assert len(wake_ups) == 1


def test_a_wake_up_lost_with_its_savepoint_is_asked_for_again(
    done, django_capture_on_commit_callbacks
):
    @transaction.atomic
    def record_and_fail():
        outbox.record("test.note", number=1)
        raise RuntimeError("this part failed")

    with django_capture_on_commit_callbacks() as wake_ups, transaction.atomic():
        with pytest.raises(RuntimeError):
            record_and_fail()
        outbox.record("test.note", number=2)

    assert len(wake_ups) == 1
