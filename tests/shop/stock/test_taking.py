"""Taking parts: the books never lie, and what was done at the bench is never lost."""

import threading

import pytest
from django.db import connection

from shop.core.errors import Conflict
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.stock.errors import NoSuchPart, NotEnoughStock, NotTaken
from shop.stock.models import Move, Reservation, StockLevel
from shop.stock.selectors import check_levels
from shop.stock.services import count_bin, release_part, reserve_part, return_part, take_part
from tests.factories.core import NOW, PersonFactory
from tests.factories.stock import BinFactory, PartFactory, StockLevelFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


def take(level, quantity, **more):
    wanted = {"id": new_id(), "part": level.part, "repair": RepairFactory(), "at": NOW}
    by = more.pop("by", None) or PersonFactory()
    return take_part(**{**wanted, "quantity": quantity, "by": by, **more})


def test_taking_a_part_lowers_the_level_and_asks_for_a_look_at_the_reorder_level():
    level = StockLevelFactory(on_hand=5)

    move = take(level, 2, template="mains-conversion")

    level.refresh_from_db()
    assert (level.on_hand, move.short, move.bin) == (3, 0, level.bin)
    assert OutboxEvent.objects.get().kind == "stock.check_reorder"
    assert check_levels() == []


def test_a_part_is_found_by_its_tag_code_and_by_its_order_code():
    level = StockLevelFactory(part=PartFactory(order_code="CELL-2032"))

    take(level, 1, part=level.part.code.lower())
    take(level, 1, part="CELL-2032")

    level.refresh_from_db()
    assert level.on_hand == 3


def test_an_unknown_part_is_refused_by_name():
    with pytest.raises(NoSuchPart):
        take(StockLevelFactory(), 1, part="NO-SUCH-THING")

    assert Move.objects.count() == 1  # only the one that filled the bin


def test_the_bin_with_most_free_pieces_is_used_when_none_is_named():
    full = StockLevelFactory(on_hand=4)
    StockLevelFactory(part=full.part, on_hand=9, reserved=8)

    move = take(full, 1)

    assert move.bin == full.bin


def test_a_repeat_returns_the_first_move_and_takes_nothing_more():
    level = StockLevelFactory(on_hand=5)
    same = {"id": new_id(), "repair": RepairFactory(), "by": PersonFactory()}
    first = take(level, 2, **same)

    second = take(level, 2, **same)

    level.refresh_from_db()
    assert (second.id, level.on_hand) == (first.id, 3)
    assert OutboxEvent.objects.count() == 1


def test_the_same_id_with_another_quantity_is_a_conflict_and_changes_nothing():
    level = StockLevelFactory(on_hand=5)
    same = {"id": new_id(), "repair": RepairFactory(), "by": PersonFactory()}
    take(level, 2, **same)

    with pytest.raises(Conflict):
        take(level, 3, **same)

    level.refresh_from_db()
    assert level.on_hand == 3


def test_more_than_the_books_know_is_recorded_short_and_leaves_an_empty_bin():
    level = StockLevelFactory(on_hand=1)

    move = take(level, 3)

    level.refresh_from_db()
    assert (move.quantity, move.short, level.on_hand) == (3, 2, 0)
    assert check_levels() == []


def test_a_part_that_never_lay_in_a_bin_is_recorded_all_short():
    move = take_part(
        id=new_id(),
        part=PartFactory(),
        quantity=2,
        repair=RepairFactory(),
        by=PersonFactory(),
        at=NOW,
    )

    assert (move.short, move.bin) == (2, None)
    assert check_levels() == []


def reserve(level, repair, quantity, by=None):
    return reserve_part(
        id=new_id(),
        repair=repair,
        level=level,
        quantity=quantity,
        by=by or PersonFactory(),
        at=NOW,
    )


def test_reserving_more_than_is_free_changes_nothing():
    level = StockLevelFactory(on_hand=5, reserved=4)

    with pytest.raises(NotEnoughStock):
        reserve(level, RepairFactory(), 2)

    level.refresh_from_db()
    assert level.free == 1
    assert not OutboxEvent.objects.exists()
    assert not Reservation.objects.exists()


def test_taking_for_the_repair_that_reserved_uses_its_reservation():
    level, repair = StockLevelFactory(on_hand=5), RepairFactory()
    kept = reserve(level, repair, 3)

    take(level, 2, repair=repair)

    level.refresh_from_db()
    kept.refresh_from_db()
    assert (level.on_hand, level.reserved, kept.left) == (3, 1, 1)


def test_taking_a_piece_set_aside_for_another_repair_shrinks_that_reservation():
    level = StockLevelFactory(on_hand=2)
    kept = reserve(level, RepairFactory(), 2)

    move = take(level, 1)

    level.refresh_from_db()
    kept.refresh_from_db()
    assert (move.short, level.on_hand, level.reserved, kept.left) == (0, 1, 1, 1)


def test_releasing_twice_frees_the_pieces_once():
    level = StockLevelFactory(on_hand=5)
    kept = reserve(level, RepairFactory(), 3)
    reserve(level, RepairFactory(), 1)

    release_part(reservation=kept)
    release_part(reservation=kept)

    level.refresh_from_db()
    assert level.reserved == 1


def test_a_returned_piece_goes_back_into_its_bin():
    level, repair = StockLevelFactory(on_hand=5), RepairFactory()
    take(level, 2, repair=repair)

    return_part(id=new_id(), part=level.part, quantity=1, repair=repair, by=PersonFactory(), at=NOW)

    level.refresh_from_db()
    assert level.on_hand == 4
    assert check_levels() == []


def test_more_than_was_taken_cannot_be_returned():
    level, repair = StockLevelFactory(on_hand=5), RepairFactory()
    take(level, 1, repair=repair)

    with pytest.raises(NotTaken):
        return_part(
            id=new_id(), part=level.part, quantity=2, repair=repair, by=PersonFactory(), at=NOW
        )

    level.refresh_from_db()
    assert level.on_hand == 4


def test_a_repeated_count_does_not_bring_back_pieces_taken_since():
    level, anna = StockLevelFactory(on_hand=5), PersonFactory()
    count = {"id": new_id(), "part": level.part, "bin": level.bin, "by": anna, "at": NOW}
    count_bin(**count, counted=5)
    take(level, 1)

    count_bin(**count, counted=5)

    level.refresh_from_db()
    assert level.on_hand == 4
    assert check_levels() == []


@pytest.mark.parametrize("counted", [0, 3, 9])
def test_a_count_is_the_new_level_and_a_move_tells_the_difference(counted):
    level = StockLevelFactory(on_hand=5)
    kept = reserve(level, RepairFactory(), 4)

    count_bin(
        id=new_id(),
        part=level.part,
        bin=level.bin,
        counted=counted,
        by=PersonFactory(),
        at=NOW,
    )

    level.refresh_from_db()
    kept.refresh_from_db()
    assert level.on_hand == counted
    assert level.reserved == kept.left == min(4, counted)
    assert check_levels() == []


def test_a_level_changed_behind_the_moves_is_found():
    level = StockLevelFactory(on_hand=5)
    StockLevel.objects.filter(id=level.id).update(on_hand=4)

    wrong = check_levels()

    assert wrong == [{"part": level.part.code, "bin": level.bin.code, "on_hand": 4, "moves": 5}]


@pytest.mark.postgresql
@pytest.mark.django_db(transaction=True)
def test_ten_takes_at_once_lose_no_piece_and_invent_none():
    if connection.vendor != "postgresql":
        pytest.skip("row locks are tested on PostgreSQL only")
    level, repair, anna = StockLevelFactory(on_hand=7), RepairFactory(), PersonFactory()

    def work():
        try:
            take_part(id=new_id(), part=level.part, quantity=1, repair=repair, by=anna, at=NOW)
        finally:
            connection.close()

    threads = [threading.Thread(target=work) for _ in range(10)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    level.refresh_from_db()
    assert level.on_hand == 0
    assert sum(move.short for move in Move.objects.filter(repair=repair)) == 3
    assert check_levels() == []


def test_an_empty_bin_code_in_another_bin_is_left_alone():
    level, other = StockLevelFactory(on_hand=5), BinFactory()

    move = take(level, 1, bin=other)

    level.refresh_from_db()
    assert (move.short, level.on_hand) == (1, 5)
    assert check_levels() == []
