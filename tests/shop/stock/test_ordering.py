"""The draft order that grows by itself, and its way through approval to the bin."""

import threading

import pytest
from django.db import connection

from shop.core import outbox
from shop.core.errors import BadField, NotAllowed
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.stock.errors import OrderEmpty, OrderStageNotAllowed
from shop.stock.models import OrderLine, PurchaseOrder, StockLevel
from shop.stock.selectors import check_levels, inventory_position
from shop.stock.services import (
    approve_order,
    check_reorder,
    drop_order,
    mark_order_sent,
    receive_order,
    take_part,
)
from tests.factories.core import NOW, PersonFactory
from tests.factories.stock import (
    BinFactory,
    OrderLineFactory,
    PartFactory,
    PurchaseOrderFactory,
    StockLevelFactory,
)
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


def test_falling_to_the_reorder_level_makes_one_line_up_to_the_upper_level():
    level = StockLevelFactory(on_hand=3, part__reorder_level=2, part__order_up_to=10)
    for _ in range(2):
        take_part(
            id=new_id(),
            part=level.part,
            quantity=1,
            repair=RepairFactory(),
            by=PersonFactory(),
            at=NOW,
        )

    outbox.sweep()

    line = OrderLine.objects.get()
    assert (line.part, line.quantity, line.order.stage) == (level.part, 9, "draft")


def test_above_the_reorder_level_nothing_is_ordered():
    level = StockLevelFactory(on_hand=3, part__reorder_level=2)

    check_reorder(part_id=str(level.part_id))

    assert not PurchaseOrder.objects.exists()


def test_a_repeat_of_the_work_changes_nothing():
    level = StockLevelFactory(on_hand=2)

    check_reorder(part_id=str(level.part_id))
    check_reorder(part_id=str(level.part_id))

    assert OrderLine.objects.get().quantity == 8


def test_pieces_on_order_count_and_pieces_set_aside_do_not():
    level = StockLevelFactory(on_hand=2, reserved=1)
    OrderLineFactory(part=level.part, order__stage="sent", quantity=4, received=1)

    position = inventory_position(level.part)

    assert position == 2 + 3 - 1


def test_two_parts_of_one_supplier_share_one_draft():
    first = StockLevelFactory(on_hand=1)
    second = StockLevelFactory(on_hand=1, part__supplier=first.part.supplier)

    check_reorder(part_id=str(first.part_id))
    check_reorder(part_id=str(second.part_id))

    assert PurchaseOrder.objects.get().lines.count() == 2


def test_a_line_the_manager_raised_is_not_lowered():
    level = StockLevelFactory(on_hand=1)
    check_reorder(part_id=str(level.part_id))
    OrderLine.objects.update(quantity=50)

    check_reorder(part_id=str(level.part_id))

    assert OrderLine.objects.get().quantity == 50


def test_only_the_manager_approves(anna):
    order = OrderLineFactory().order

    with pytest.raises(NotAllowed):
        approve_order(order=order, by=anna, at=NOW)

    order.refresh_from_db()
    assert order.stage == "draft"
    assert not OutboxEvent.objects.exists()


def test_approving_twice_sends_it_once(max):
    order = OrderLineFactory().order

    approve_order(order=order, by=max, at=NOW)
    approve_order(order=order, by=max, at=NOW)

    assert OutboxEvent.objects.get().kind == "notices.send_order"


def test_an_order_without_lines_is_not_approved(max):
    with pytest.raises(OrderEmpty):
        approve_order(order=PurchaseOrderFactory(), by=max, at=NOW)


def test_a_dropped_draft_cannot_be_approved(max):
    order = OrderLineFactory().order
    drop_order(order=order, by=max)

    with pytest.raises(OrderStageNotAllowed):
        approve_order(order=order, by=max, at=NOW)


def test_an_order_is_marked_sent_once():
    order = PurchaseOrderFactory(stage="approved")

    assert mark_order_sent(order_id=order.id, at=NOW)
    assert not mark_order_sent(order_id=order.id, at=NOW)


def test_what_arrives_lies_in_its_bin_and_completes_the_order(dora):
    line, bin = OrderLineFactory(order__stage="sent", quantity=8), BinFactory()
    first = {"id": new_id(), "lines": [{"part": line.part, "quantity": 5, "bin": bin}]}

    receive_order(order=line.order, by=dora, at=NOW, **first)
    half = receive_order(order=line.order, by=dora, at=NOW, **first)  # sent twice
    rest = [{"part": line.part, "quantity": 3, "bin": bin}]
    whole = receive_order(id=new_id(), order=line.order, lines=rest, by=dora, at=NOW)

    assert (half.stage, whole.stage) == ("sent", "received")
    assert StockLevel.objects.get().on_hand == 8
    assert check_levels() == []


def test_a_part_that_was_not_ordered_is_refused_and_nothing_is_booked(dora):
    line, bin = OrderLineFactory(order__stage="sent"), BinFactory()
    lines = [
        {"part": line.part, "quantity": 1, "bin": bin},
        {"part": PartFactory(), "quantity": 1, "bin": bin},
    ]

    with pytest.raises(BadField, match="does not name"):
        receive_order(id=new_id(), order=line.order, lines=lines, by=dora, at=NOW)

    assert not StockLevel.objects.exists()


def test_a_draft_cannot_arrive(dora):
    line = OrderLineFactory()
    lines = [{"part": line.part, "quantity": 1, "bin": BinFactory()}]

    with pytest.raises(OrderStageNotAllowed):
        receive_order(id=new_id(), order=line.order, lines=lines, by=dora, at=NOW)


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_many_workers_at_once_make_one_draft_with_one_line_per_part():
    if connection.vendor != "postgresql":
        pytest.skip("row locks are tested on PostgreSQL only")
    first = StockLevelFactory(on_hand=1)
    second = StockLevelFactory(on_hand=1, part__supplier=first.part.supplier)
    failed = []

    def work(part_id):
        try:
            check_reorder(part_id=str(part_id))
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=work, args=[level.part_id]) for level in [first, second] * 4]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert failed == []
    assert PurchaseOrder.objects.count() == 1
    assert sorted(OrderLine.objects.values_list("quantity", flat=True)) == [9, 9]
