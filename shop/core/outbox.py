"""Work that must follow a change: recorded in its transaction, leased, tried, then marked done.

The broker is only a wake-up. Losing a message costs a second, because beat sweeps the rows.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any, TypeVar
from uuid import UUID

from django.conf import settings
from django.db import connection, transaction
from django.db.models import F, Q
from django.utils import timezone

from shop.core.models import OutboxEvent

log = logging.getLogger(__name__)

Handler = Callable[..., object]
HandlerT = TypeVar("HandlerT", bound=Handler)
MAX_TRIES = 5
_handlers: dict[str, Handler] = {}


def handles(kind: str) -> Callable[[HandlerT], HandlerT]:
    """Register a service as the handler of one kind of work. It must stand a repeat."""

    def register(handler: HandlerT) -> HandlerT:
        _handlers[kind] = handler
        return handler

    return register


def record(
    kind: str, /, *, key: str | None = None, due_at: datetime | None = None, **payload: Any
) -> None:
    """Write down work to follow, in the caller's transaction.

    With a `key` the same work is written once for ever. The wake-up goes out after commit.
    """
    now = timezone.now()
    row = OutboxEvent(kind=kind, payload=payload, key=key, created_at=now, due_at=due_at or now)
    OutboxEvent.objects.bulk_create([row], ignore_conflicts=key is not None)
    _wake_after_commit()


def _wake_after_commit() -> None:
    """One wake-up per transaction is enough.

    One asked for in a savepoint goes when that is rolled back, and with it every row written since
    in it; so whatever still stands in the list comes after this row as well.
    """
    if not any(hook[1] is _wake for hook in connection.run_on_commit):
        transaction.on_commit(_wake, robust=True)


def _wake() -> None:
    # By name: no service imports a task. A broker that is away must not fail the change.
    # The shop's own app: celery's current one knows no broker of ours until somebody loads it.
    from shop.celery import app

    try:
        app.send_task("core.sweep_outbox", retry=False)
    except Exception as error:
        log.warning("no wake-up (%s): the sweep will find the row", error)


def waiting(now: datetime) -> Q:
    """Rows that may be taken now: due, not done, not dead, not leased by somebody else."""
    return Q(done_at=None, dead_at=None, due_at__lte=now) & (
        Q(leased_until=None) | Q(leased_until__lte=now)
    )


def sweep(limit: int = 100) -> int:
    """Do what waits, oldest first. Returns how many rows were tried."""
    tried = 0
    while tried < limit:
        event = claim(now=timezone.now())
        if event is None:
            break
        attempt(event)
        tried += 1
    return tried


def claim(*, now: datetime) -> OutboxEvent | None:
    """Lease the oldest waiting row, or None. Two workers never get the same one."""
    if not OutboxEvent.objects.filter(waiting(now)).exists():
        return None  # an idle look never takes SQLite's write lock
    with transaction.atomic():
        rows = OutboxEvent.objects.filter(waiting(now)).order_by("due_at", "id")
        if connection.features.has_select_for_update_skip_locked:
            rows = rows.select_for_update(skip_locked=True)
        event = rows.first()
        if event is None:
            return None
        event.leased_until = now + timedelta(seconds=settings.OUTBOX_LEASE_SECONDS)
        event.tries = F("tries") + 1
        event.save(update_fields=["leased_until", "tries"])
    event.refresh_from_db(fields=["tries"])
    return event


def attempt(event: OutboxEvent) -> None:
    """Run the handler of a leased row and mark it done, or put it back, or declare it dead."""
    try:
        if event.tries > MAX_TRIES:  # its worker died each time before it could say so
            raise RuntimeError("the worker ended in the middle each time")
        _handlers[event.kind](**event.payload)
    except Exception as error:
        log.exception("outbox %s %s failed (try %s)", event.kind, event.id, event.tries)
        _put_back(event, error)
    else:
        OutboxEvent.objects.filter(id=event.id).update(done_at=timezone.now(), leased_until=None)


def _put_back(event: OutboxEvent, error: Exception) -> None:
    now = timezone.now()
    again = {"due_at": now + timedelta(seconds=2**event.tries)}
    OutboxEvent.objects.filter(id=event.id).update(
        last_error=f"{type(error).__name__}: {error}"[:2000],
        leased_until=None,
        **({"dead_at": now} if event.tries >= MAX_TRIES else again),
    )


def try_again(*, id: UUID) -> None:
    """A person looked at a dead row and wants it tried anew."""
    OutboxEvent.objects.filter(id=id, dead_at__isnull=False).update(
        dead_at=None, tries=0, due_at=timezone.now(), leased_until=None
    )
    _wake_after_commit()
