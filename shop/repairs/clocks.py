"""How long a visit takes: elapsed time, and working time without the waits for others."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from shop.repairs.stages import CLOSED, PAUSED

DAY = timedelta(days=1)
Mark = tuple[str, datetime]  # a stage and when it began


def elapsed(marks: Sequence[Mark], now: datetime) -> timedelta:
    """From booking in to closing, or to now. Zero without events."""
    if not marks:
        return timedelta()
    return _end(marks, now) - marks[0][1]


def working(marks: Sequence[Mark], now: datetime) -> timedelta:
    """Elapsed time without the `awaiting_` stages, which alone stop the working clock."""
    end = _end(marks, now)
    until = [at for _stage, at in marks[1:]] + [end]
    total = timedelta()
    for (stage, since), to in zip(marks, until, strict=True) if marks else ():
        if stage not in PAUSED and stage not in CLOSED:
            total += max(to - since, timedelta())
    return total


def in_days(time: timedelta) -> float:
    """Days to one decimal."""
    return round(time / DAY, 1)


def _end(marks: Sequence[Mark], now: datetime) -> datetime:
    return marks[-1][1] if marks and marks[-1][0] in CLOSED else now
