"""The manager's first page, in a fixed number of queries."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from typing import TypedDict
from uuid import UUID
from zoneinfo import ZoneInfo

from shop.core.selectors import the_shop
from shop.insight.reasons import NOT_OURS, Situation, days_between, whose_turn, why_stuck
from shop.insight.selectors.parts_used import PartUsed, parts_used
from shop.insight.selectors.situations import open_repairs, situations
from shop.insight.selectors.stuck_work import dead_work_count
from shop.insight.selectors.turnaround import Turnaround, turnaround
from shop.repairs.models import Repair, Stage
from shop.repairs.stages import CLOSED
from shop.stock.selectors import (
    OrderRow,
    PartRow,
    low_parts,
    order_row,
    orders_under_way,
    part_rows,
)


class BoardRepair(TypedDict):
    id: UUID
    number: int
    unit: str
    age_days: int
    due_on: date | None
    overdue: bool
    why: str | None


class BoardStage(TypedDict):
    stage: str
    label: str
    repairs: list[BoardRepair]


class StuckRepair(TypedDict):
    id: UUID
    number: int
    unit: str
    stage: str
    since: datetime
    why: str


class Board(TypedDict):
    stages: list[BoardStage]
    stuck: list[StuckRepair]
    turnaround: Turnaround
    parts_used: list[PartUsed]
    low_parts: list[PartRow]
    orders: list[OrderRow]
    stuck_work: int


Reasons = dict[UUID, "str | None"]


def board(*, now: datetime) -> Board:
    """Everything the manager has to know this morning."""
    time_zone = the_shop().time_zone
    today = now.astimezone(ZoneInfo(time_zone)).date()
    repairs = open_repairs()
    known = situations(repairs, now=now)
    reasons: Reasons = {
        id: why_stuck(situation, now=now, today=today) for id, situation in known.items()
    }
    return {
        "stages": _stages(repairs, reasons, now, today),
        "stuck": _stuck(repairs, reasons, known),
        "turnaround": turnaround(now=now, time_zone=time_zone),
        "parts_used": parts_used(time_zone=time_zone, today=today),
        "low_parts": part_rows(low_parts()),
        "orders": [order_row(order) for order in orders_under_way()],
        "stuck_work": dead_work_count(),
    }


def _stages(
    repairs: Iterable[Repair], reasons: Reasons, now: datetime, today: date
) -> list[BoardStage]:
    """Every open stage in the order of the work, with its repairs, empty ones too."""
    by_stage: dict[str, list[BoardRepair]] = {
        stage: [] for stage in Stage.values if stage not in CLOSED
    }
    for repair in repairs:
        by_stage[repair.stage].append(_row(repair, reasons[repair.id], now, today))
    return [
        {"stage": stage, "label": str(Stage(stage).label), "repairs": rows}
        for stage, rows in by_stage.items()
    ]


def _row(repair: Repair, why: str | None, now: datetime, today: date) -> BoardRepair:
    is_late = repair.due_on is not None and repair.due_on < today
    return {
        "id": repair.id,
        "number": repair.number,
        "unit": _unit(repair),
        "age_days": days_between(repair.booked_in_at, now),
        "due_on": repair.due_on,
        "overdue": is_late and repair.stage not in NOT_OURS,
        "why": why,
    }


def _stuck(
    repairs: Iterable[Repair], reasons: Reasons, known: dict[UUID, Situation]
) -> list[StuckRepair]:
    """Repairs with a reason: what the shop can move first, then the longest in their stage."""
    return [
        {
            "id": repair.id,
            "number": repair.number,
            "unit": _unit(repair),
            "stage": repair.stage,
            "since": repair.stage_since,
            "why": why,
        }
        for repair in sorted(repairs, key=lambda repair: whose_turn(known[repair.id]))
        if (why := reasons[repair.id])
    ]


def _unit(repair: Repair) -> str:
    return f"{repair.unit.make} {repair.unit.model}"
