"""What is known about every open repair, gathered with a fixed number of queries."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime
from typing import TypedDict
from uuid import UUID

from django.db.models import F, OuterRef, Subquery
from django.utils.translation import gettext as _

from shop.billing.models import Estimate
from shop.insight.reasons import Situation, days_between, in_days
from shop.insight.selectors.sign_offs import missing_sign_offs
from shop.jobs.models import Entry, Worksheet
from shop.notices.models import Notice
from shop.repairs.models import Repair, Stage, StageEvent
from shop.repairs.stages import CLOSED
from shop.stock.models import Move, OrderLine, Part, Place, PurchaseOrder

AT_THE_BENCH = [Stage.LOOKING_OVER, Stage.ON_THE_BENCH, Stage.ON_TEST]
WITH_A_REASON = [Stage.AWAITING_PARTS, Stage.AWAITING_OTHER]


class _OfOrders(TypedDict):
    orders: tuple[str, ...]
    is_all_ordered: bool


def open_repairs() -> list[Repair]:
    """Every repair that is not closed, oldest stage first."""
    found = Repair.objects.exclude(stage__in=CLOSED).select_related("unit")
    wide = ("signature", "complaint", "damage", "outcome")
    return list(found.defer(*wide).order_by("stage_since", "id"))


def situations(repairs: Iterable[Repair], *, now: datetime) -> dict[UUID, Situation]:
    """The situation of each of these open repairs, by its id."""
    entries, estimates = _last_entries(), _open_estimates()
    reasons, orders, untold = _stage_reasons(), _orders_waited_for(), _not_told()
    sign_offs = missing_sign_offs()
    return {
        repair.id: Situation(
            stage=repair.stage,
            stage_since=repair.stage_since,
            due_on=repair.due_on,
            is_assigned=repair.assigned_to_id is not None,
            stage_reason=reasons.get(repair.id, ""),
            last_entry_at=entries.get(repair.id),
            estimate_sent_at=estimates.get(repair.id),
            has_estimate=repair.id in estimates,
            sign_off_missing_in=sign_offs.get(repair.id, ""),
            **_of_orders(orders.get(repair.id, []), now),
            not_told_why=untold.get(repair.id, ""),
        )
        for repair in repairs
    }


def _last_entries() -> dict[UUID, datetime]:
    """When something was last recorded on each repair at the bench."""
    # Looked up for each repair by the index: grouping would read every entry ever made.
    newest = Entry.objects.filter(repair=OuterRef("id")).order_by("-received_at")
    at_the_bench = Repair.objects.filter(stage__in=AT_THE_BENCH)
    last = at_the_bench.annotate(last=Subquery(newest.values("received_at")[:1]))
    return {id: at for id, at in last.values_list("id", "last") if at is not None}


def _open_estimates() -> dict[UUID, datetime | None]:
    """When the estimate under way was sent, None for a draft."""
    under_way = Estimate.objects.filter(
        repair__stage=Stage.AWAITING_GO_AHEAD, state=Estimate.State.SENT
    )
    return dict(under_way.values_list("repair_id", "sent_at"))


def _stage_reasons() -> dict[UUID, str]:
    """Why a repair went into the waiting stage it is in."""
    events = StageEvent.objects.filter(repair__stage__in=WITH_A_REASON, to_stage__in=WITH_A_REASON)
    events = events.exclude(from_stage=F("to_stage"))  # a correction meanwhile
    return dict(events.order_by("at", "id").values_list("repair_id", "reason"))


def _not_told() -> dict[UUID, str]:
    notices = Notice.objects.filter(
        repair__stage=Stage.READY, kind=Notice.Kind.READY, sent_at=None
    ).exclude(not_sent_why="")
    return {
        repair_id: why
        for repair_id, why in notices.values_list("repair_id", "not_sent_why")
        if repair_id
    }


def _orders_waited_for() -> dict[UUID, list[PurchaseOrder]]:
    """For each repair that waits for parts: the open orders that name them, by number."""
    wanted = parts_waited_for()
    open_lines = OrderLine.objects.filter(
        part_id__in={part for parts in wanted.values() for part in parts},
        order__stage__in=[
            PurchaseOrder.Stage.DRAFT, PurchaseOrder.Stage.APPROVED, PurchaseOrder.Stage.SENT
        ],
    ).select_related("order").order_by("order__number")  # fmt: skip
    by_part: dict[UUID, list[PurchaseOrder]] = defaultdict(list)
    for line in open_lines:
        by_part[line.part_id].append(line.order)
    return {
        repair_id: sorted(
            {order for part in parts for order in by_part[part]}, key=lambda order: order.number
        )
        for repair_id, parts in wanted.items()
    }


def parts_waited_for() -> dict[UUID, set[UUID]]:
    """Parts taken short for a waiting repair, and parts its open worksheets have yet to take."""
    waiting = Repair.objects.filter(stage=Stage.AWAITING_PARTS)
    moves = Move.objects.filter(repair__in=waiting, to_place=Place.REPAIR)
    wanted: dict[UUID, set[UUID]] = defaultdict(set)
    taken: set[tuple[UUID | None, UUID]] = set()
    for repair_id, part_id, short in moves.values_list("repair_id", "part_id", "short"):
        if short and repair_id:
            wanted[repair_id].add(part_id)
        else:
            taken.add((repair_id, part_id))
    for repair_id, part_id in _parts_of_open_worksheets():
        if (repair_id, part_id) not in taken:
            wanted[repair_id].add(part_id)
    return wanted


def _parts_of_open_worksheets() -> list[tuple[UUID, UUID]]:
    worksheets = Worksheet.objects.filter(
        repair__stage=Stage.AWAITING_PARTS, stage=Worksheet.Stage.OPEN
    ).values_list("repair_id", "revision__body__parts")
    named = [
        (repair_id, str(part.get("order_code", "")))
        for repair_id, parts in worksheets
        for part in parts or []
    ]
    codes = {code for _repair, code in named if code}
    by_code = dict(Part.objects.filter(order_code__in=codes).values_list("order_code", "id"))
    return [(repair_id, by_code[code]) for repair_id, code in named if code in by_code]


def _of_orders(orders: list[PurchaseOrder], now: datetime) -> _OfOrders:
    return {
        "orders": tuple(_order_in_words(order, now) for order in orders),
        "is_all_ordered": bool(orders) and all(order.sent_at for order in orders),
    }


def _order_in_words(order: PurchaseOrder, now: datetime) -> str:
    words = {"number": order.number}
    if order.stage == PurchaseOrder.Stage.DRAFT:
        return _("order %(number)d not approved") % words
    if order.sent_at is None:
        return _("order %(number)d approved but not sent") % words
    days = in_days(days_between(order.sent_at, now))
    return _("order %(number)d sent %(days)s ago") % {**words, "days": days}
