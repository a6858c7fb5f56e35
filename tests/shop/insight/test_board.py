"""The manager's first page."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.insight.selectors import board
from shop.jobs.models import Entry, JobTemplate, Revision, Worksheet
from shop.repairs.models import Repair, StageEvent
from shop.stock.services import take_part
from tests.factories.core import NOW, PersonFactory
from tests.factories.stock import OrderLineFactory, PartFactory, StockLevelFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db

STEPS = [
    {"id": "look", "kind": "look"},
    {"id": "hold", "kind": "sign_off"},
    {"id": "after", "kind": "note"},
]


def worksheet_on(repair, **body):
    template, _new = JobTemplate.objects.get_or_create(slug="job", defaults={"title": "The job"})
    number = template.revisions.count() + 1
    revision = Revision.objects.create(
        template=template, number=number, body=body, body_sha256="0" * 64, published_at=NOW
    )
    return Worksheet.objects.create(
        id=new_id(),
        repair=repair,
        revision=revision,
        opened_by=PersonFactory(),
        opened_at=NOW,
        pack=b"",
        pack_sha256="0" * 64,
    )


def entry_on(sheet, step, kind="choice"):
    seq = sheet.entries.count() + 1
    return Entry.objects.create(
        id=new_id(), record=sheet.id, seq=seq, repair=sheet.repair, worksheet=sheet, step=step,
        kind=kind, made_by=PersonFactory(), made_at=NOW, received_at=NOW, hash="0" * 64,
    )  # fmt: skip


def whys(found):
    return {row["number"]: row["why"] for row in found["stuck"]}


def test_open_repairs_stand_under_their_stage_and_closed_ones_nowhere():
    here, gone = RepairFactory(), RepairFactory(stage="handed_back")

    found = board(now=NOW + timedelta(days=2))

    rows = {stage["stage"]: stage["repairs"] for stage in found["stages"]}
    assert [row["number"] for row in rows["booked_in"]] == [here.number]
    assert rows["booked_in"][0]["age_days"] == 2
    assert "handed_back" not in rows
    assert gone.number not in {row["number"] for stage in rows.values() for row in stage}


def test_a_repair_that_waits_for_parts_names_the_order_and_its_state():
    level = StockLevelFactory(on_hand=0)
    repair = RepairFactory(stage="awaiting_parts")
    take_part(id=new_id(), part=level.part, quantity=1, repair=repair, by=PersonFactory(), at=NOW)
    OrderLineFactory(part=level.part, order__number=12)

    found = board(now=NOW + timedelta(days=6))

    assert whys(found) == {repair.number: "waiting for parts for 6 days, order 12 not approved"}


def test_what_the_shop_can_move_stands_before_what_nobody_fetched():
    not_fetched = RepairFactory(stage="ready", stage_since=NOW)
    outside = RepairFactory(stage="awaiting_other", stage_since=NOW + timedelta(days=1))
    on_test = RepairFactory(stage="on_test", stage_since=NOW + timedelta(days=2))
    booked_in = RepairFactory(stage_since=NOW + timedelta(days=3))

    found = board(now=NOW + timedelta(days=30))

    assert [row["number"] for row in found["stuck"]] == [
        on_test.number, booked_in.number, outside.number, not_fetched.number
    ]  # fmt: skip


def test_a_part_that_an_open_worksheet_has_yet_to_take_counts_as_waited_for():
    part = PartFactory(order_code="CELL-2032")
    repair = RepairFactory(stage="awaiting_parts")
    worksheet_on(repair, parts=[{"key": "cell", "order_code": "CELL-2032"}], steps=[])
    OrderLineFactory(part=part, order__number=7, order__stage="sent", order__sent_at=NOW)

    found = board(now=NOW + timedelta(days=3))

    assert whys(found)[repair.number] == ("waiting for parts for 3 days, order 7 sent 3 days ago")


def test_a_worksheet_that_came_to_an_unsigned_hold_point_is_named():
    held, signed = RepairFactory(stage="on_the_bench"), RepairFactory(stage="on_the_bench")
    entry_on(worksheet_on(held, steps=STEPS), "look")
    sheet = worksheet_on(signed, steps=STEPS)
    entry_on(sheet, "look")
    entry_on(sheet, "hold", kind="sign_off")

    found = board(now=NOW)

    assert whys(found) == {held.number: "sign-off missing in “The job”"}


def test_open_repairs_count_in_the_turnaround_with_their_present_age():
    for days in (1, 2, 3):
        done = RepairFactory(stage="handed_back")
        StageEvent.objects.create(
            repair=done, to_stage="ready", at=NOW + timedelta(days=days), by=PersonFactory()
        )
    for _number in range(3):
        RepairFactory()

    found = board(now=NOW + timedelta(days=10))["turnaround"]

    # By hand: three of six are done by day 3, so half; the other half is open, so no 85 %.
    assert (found["closed"], found["open"]) == (3, 3)
    assert (found["median_days"], found["p85_days"]) == (3.0, None)
    assert "more than 3 days" in found["text"]
    assert sum(week["closed"] for week in found["weeks"]) == 3


def test_parts_used_are_counted_by_month_and_template_less_returns():
    level, repair, anna = StockLevelFactory(on_hand=9), RepairFactory(), PersonFactory()
    take_part(
        id=new_id(), part=level.part, quantity=3, repair=repair, by=anna, at=NOW, template="job"
    )

    found = board(now=NOW)["parts_used"]

    assert [(row["month"], row["template"], row["quantity"]) for row in found] == [
        ("2026-03", "job", 3)
    ]


def test_low_parts_orders_and_dead_work_are_shown():
    level = StockLevelFactory(on_hand=2)
    StockLevelFactory(on_hand=3)
    line = OrderLineFactory(part=level.part)
    OutboxEvent.objects.create(kind="x", created_at=NOW, due_at=NOW, dead_at=NOW)

    found = board(now=NOW)

    assert [part["code"] for part in found["low_parts"]] == [level.part.code]
    assert [order["number"] for order in found["orders"]] == [line.order.number]
    assert found["stuck_work"] == 1


def queries_of_a_board():
    with CaptureQueriesContext(
        connection,
    ) as seen:
        board(now=NOW + timedelta(days=9))
    return len(seen)


def fill(size):
    for stage in ("booked_in", "looking_over", "awaiting_go_ahead", "on_the_bench",
                  "awaiting_parts", "on_test", "ready", "handed_back"):  # fmt: skip
        for repair in RepairFactory.create_batch(size, stage=stage):
            StageEvent.objects.create(repair=repair, to_stage=stage, at=NOW, by=repair.booked_in_by)
            sheet = worksheet_on(repair, steps=STEPS, parts=[{"order_code": f"P-{size}"}])
            entry_on(sheet, "look")
    level = StockLevelFactory(on_hand=0, part__order_code=f"P-{size}")
    OrderLineFactory(part=level.part)
    for repair in Repair.objects.filter(stage="awaiting_parts"):
        take_part(
            id=new_id(), part=level.part, quantity=1, repair=repair, by=PersonFactory(), at=NOW
        )


def test_the_number_of_queries_does_not_grow_with_the_shop():
    fill(1)
    small = queries_of_a_board()
    fill(4)

    assert queries_of_a_board() == small
