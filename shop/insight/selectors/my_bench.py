"""What somebody at the bench has to know in the morning and between jobs, in few queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any, Final, TypedDict
from uuid import UUID

from django.db.models import F, QuerySet

from shop.core.models import Person
from shop.core.selectors import active_people, today_in_shop
from shop.insight.reasons import NOT_OURS, why_stuck
from shop.insight.selectors.situations import AT_THE_BENCH, situations
from shop.insight.selectors.waiting import Waiting, waiting_rows
from shop.jobs.selectors import SheetProgress, open_sheets_of
from shop.repairs.models import Repair, Stage
from shop.repairs.selectors import (
    is_waiting_for,
    last_hands,
    repair_rows,
    repairs_visible_to,
    row_values,
)
from shop.repairs.stages import CLOSED

IN_HAND: Final = frozenset({Stage.BOOKED_IN, *AT_THE_BENCH})
MOST_FREE: Final = 30
Row = dict[str, Any]


class Colleague(TypedDict):
    id: UUID
    name: str
    role: str


class MyBench(TypedDict):
    """`in_hand`, `off_bench`, `free`: rows of repairs, promised soonest first."""

    read_at: datetime
    in_hand: list[Row]
    waiting: list[Waiting]
    off_bench: list[Row]
    free: list[Row]
    people: list[Colleague]


def my_bench(person: Person, *, now: datetime) -> MyBench:
    """The bench of one person. Names no customer."""
    today = today_in_shop()
    mine = list(_soonest(_open(person).filter(assigned_to=person)))
    hands = last_hands(repair.id for repair in mine)
    handed = {repair.id for repair in mine if is_waiting_for(hands.get(repair.id), person)}
    taken = [repair for repair in mine if repair.id not in handed]
    rows = _rows(mine, person, today)
    here = [repair for repair in taken if repair.stage in IN_HAND]
    away = [repair for repair in taken if repair.stage not in IN_HAND]
    free = _soonest(_open(person).filter(assigned_to=None, stage__in=IN_HAND))[:MOST_FREE]
    return {
        "read_at": now,
        "in_hand": _with_sheets([rows[repair.id] for repair in here]),
        "waiting": waiting_rows(person, taken, [hands[id] for id in handed]),
        "off_bench": _with_why(away, rows, now, today),
        "free": list(_rows(free, person, today).values()),
        "people": [{"id": one.id, "name": str(one), "role": one.role} for one in active_people()],
    }


def _open(person: Person) -> QuerySet[Repair]:
    return repairs_visible_to(person).exclude(stage__in=CLOSED)


def _soonest(repairs: QuerySet[Repair]) -> QuerySet[Repair]:
    """Promised soonest first, then the longest here."""
    wide = ("signature", "fetched_signature", "complaint", "damage", "outcome")
    rows = repairs.select_related("unit").defer(*wide)
    return rows.order_by(F("due_on").asc(nulls_last=True), "booked_in_at", "id")


def _rows(repairs: Iterable[Repair], person: Person, today: date) -> dict[UUID, Row]:
    """Rows of lists in the order given, each with whether it is late."""
    ids = [repair.id for repair in repairs]
    values = row_values(repairs_visible_to(person).filter(id__in=ids), person)
    by_id = {row["id"]: _row(row, today) for row in repair_rows(values)}
    return {id: by_id[id] for id in ids if id in by_id}


def _row(row: Row, today: date) -> Row:
    due = row["due_on"]
    is_ours = row["stage"] not in NOT_OURS
    row.pop("customer_name")
    return {
        **row,
        "is_late": is_ours and due is not None and due < today,
        "is_due_today": is_ours and due == today,
        "why": None,
        "worksheets": [],
    }


def _with_sheets(rows: list[Row]) -> list[Row]:
    sheets: dict[UUID, list[SheetProgress]] = defaultdict(list)
    for sheet in open_sheets_of(row["id"] for row in rows):
        sheets[sheet["repair"]].append(sheet)
    return [{**row, "worksheets": sheets[row["id"]]} for row in rows]


def _with_why(away: list[Repair], rows: dict[UUID, Row], now: datetime, today: date) -> list[Row]:
    """What waits for others, with what is in the way where something is."""
    known = situations(away, now=now)
    return [
        {**rows[repair.id], "why": why_stuck(known[repair.id], now=now, today=today)}
        for repair in away
    ]
