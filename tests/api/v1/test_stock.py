"""Parts, moves, counts, orders and stuck work over HTTP."""

import pytest

from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.stock.models import Move
from tests.factories.core import NOW
from tests.factories.stock import (
    BinFactory,
    OrderLineFactory,
    PartFactory,
    StockLevelFactory,
)
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
V1 = "/api/v1/"


def test_parts_are_found_by_the_name_of_their_bin(api, anna):
    level = StockLevelFactory(bin__name="Row C 4")
    StockLevelFactory()

    answer = api(anna).get(V1 + "parts/", {"q": "row c"})

    assert [part["code"] for part in answer.data["results"]] == [level.part.code]
    assert answer.data["results"][0]["bins"][0]["on_hand"] == 5


def test_the_list_of_parts_takes_as_many_queries_for_ten_as_for_one(
    api, anna, django_assert_num_queries
):
    StockLevelFactory.create_batch(10)
    client = api(anna)

    with django_assert_num_queries(2):
        assert len(client.get(V1 + "parts/").data["results"]) == 10


def test_a_move_from_a_bin_to_a_repair_is_taken(api, anna):
    level, repair = StockLevelFactory(), RepairFactory()
    body = {
        "id": str(new_id()),
        "part": level.part.code,
        "from": level.bin.code,
        "to": str(repair.number),
        "quantity": 2,
    }

    answer = api(anna).post(V1 + "moves/", body, format="json")

    assert (answer.status_code, answer.data["short"]) == (201, 0)
    level.refresh_from_db()
    assert level.on_hand == 3


@pytest.mark.parametrize(
    ("change", "status", "code"),
    [
        ({"from": "nowhere"}, 400, "bad_input"),
        ({"part": "A0000000"}, 409, "no_such_part"),
        ({"to": "supplier"}, 409, "move_not_possible"),
        ({"quantity": 0}, 400, "bad_input"),
    ],
)
def test_a_move_that_cannot_be_is_refused_and_leaves_no_trace(api, anna, change, status, code):
    level, repair = StockLevelFactory(), RepairFactory()
    body = {
        "id": str(new_id()),
        "part": level.part.code,
        "from": level.bin.code,
        "to": str(repair.id),
        "quantity": 1,
    }

    answer = api(anna).post(V1 + "moves/", {**body, **change}, format="json")

    assert (answer.status_code, answer.data["code"]) == (status, code)
    assert Move.objects.count() == 1  # only the one that filled the bin


def test_nothing_is_taken_for_a_closed_repair(api, anna):
    level, repair = StockLevelFactory(), RepairFactory(stage="handed_back")
    body = {
        "id": str(new_id()),
        "part": level.part.code,
        "from": level.bin.code,
        "to": str(repair.id),
        "quantity": 1,
    }

    answer = api(anna).post(V1 + "moves/", body, format="json")

    assert (answer.status_code, answer.data["code"]) == (409, "repair_closed")


def test_a_count_sets_the_bin(api, dora):
    level = StockLevelFactory()
    body = {
        "id": str(new_id()),
        "part": level.part.code,
        "bin": level.bin.code,
        "counted": 7,
    }

    answer = api(dora).post(V1 + "counts/", body, format="json")

    assert answer.data["on_hand"] == 7


def test_an_order_goes_from_draft_to_the_bin(api, max, dora):
    line, bin = OrderLineFactory(quantity=8), BinFactory()
    address = f"{V1}orders/{line.order_id}/"

    approved = api(max).post(address + "approve/", format="json")
    body = {
        "id": str(new_id()),
        "lines": [{"part": line.part.code, "quantity": 8, "bin": bin.code}],
    }
    received = api(dora).post(address + "receive/", body, format="json")

    assert (approved.data["stage"], received.data["stage"]) == ("approved", "received")
    assert received.data["lines"][0]["received"] == 8


def test_only_the_manager_approves_orders_and_sees_stuck_work(api, anna, dora):
    order = OrderLineFactory().order

    for person in (anna, dora):
        client = api(person)
        assert client.post(f"{V1}orders/{order.id}/approve/").status_code == 403
        assert client.get(V1 + "stuck-work/").status_code == 403
        assert client.get(V1 + "board/").status_code == 403


def test_stuck_work_is_shown_and_tried_again_on_request(api, max):
    dead = OutboxEvent.objects.create(
        kind="x.y", created_at=NOW, due_at=NOW, dead_at=NOW, tries=5, last_error="no paper"
    )
    client = api(max)

    shown = client.get(V1 + "stuck-work/").data["results"]
    answer = client.post(f"{V1}stuck-work/{dead.id}/try-again/")

    dead.refresh_from_db()
    assert [row["last_error"] for row in shown] == ["no paper"]
    assert (answer.status_code, dead.dead_at, dead.tries) == (204, None, 0)


def test_the_board_answers_for_an_empty_shop(api, max):
    PartFactory()

    answer = api(max).get(V1 + "board/")

    assert answer.status_code == 200
    assert answer.data["stages"][0]["stage"] == "booked_in"
    assert answer.data["turnaround"]["median_days"] is None
