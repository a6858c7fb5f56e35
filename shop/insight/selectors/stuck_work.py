"""Work in the background that was given up and waits for a person."""

from __future__ import annotations

from datetime import datetime
from typing import TypedDict
from uuid import UUID

from shop.core.models import OutboxEvent


class DeadWork(TypedDict):
    id: UUID
    kind: str
    created_at: datetime
    dead_at: datetime
    tries: int
    last_error: str


def dead_work(limit: int = 100) -> list[DeadWork]:
    """The newest dead rows first."""
    fields = ("id", "kind", "created_at", "dead_at", "tries", "last_error")
    dead = OutboxEvent.objects.filter(dead_at__isnull=False).order_by("-dead_at", "-id")
    return [
        {
            "id": id,
            "kind": kind,
            "created_at": created_at,
            "dead_at": dead_at,
            "tries": tries,
            "last_error": last_error,
        }
        for id, kind, created_at, dead_at, tries, last_error in dead.values_list(*fields)[:limit]
        if dead_at is not None
    ]


def dead_work_count() -> int:
    return OutboxEvent.objects.filter(dead_at__isnull=False).count()
