"""Two desks, two phones, the same moment. Row locks say nothing on SQLite: PostgreSQL only."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection, connections

from shop.core.errors import ShopError
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.repairs.booking_facts import UnitWanted
from shop.repairs.models import Repair, StageEvent
from shop.repairs.services import book_in, change_stage, hand_back, hand_over, take_repair
from shop.units.services import add_piece
from tests.factories.booking import booking
from tests.factories.core import PersonFactory
from tests.factories.units import RepairFactory, UnitFactory

pytestmark = [
    pytest.mark.django_db(transaction=True),
    pytest.mark.postgresql,
    pytest.mark.skipif("connection.vendor != 'postgresql'", reason="row locks need PostgreSQL"),
]
AT_ONCE = 6
assert connection  # the condition above is evaluated with this module's names


def at_once(work):
    """Run `work(number)` in several threads; each answer is its result or its refusal."""

    def one(number):
        try:
            return work(number)
        except ShopError as refusal:
            return refusal.code
        finally:
            connections.close_all()

    with ThreadPoolExecutor(AT_ONCE) as threads:
        return list(threads.map(one, range(AT_ONCE)))


def test_one_booking_sent_many_times_at_once_is_one_repair():
    dora, facts = PersonFactory(role="desk"), booking(pieces=["cord"])

    answers = at_once(lambda number: book_in(facts=facts, by=dora))

    assert {repair.id for repair, _created in answers} == {facts.id}
    assert [created for _repair, created in answers].count(True) == 1
    assert (Repair.objects.count(), OutboxEvent.objects.count()) == (1, 3)


def test_one_unit_at_many_desks_at_once_is_one_repair():
    dora, unit = PersonFactory(role="desk"), UnitFactory()

    answers = at_once(lambda number: book_in(facts=booking(unit=UnitWanted(id=unit.id)), by=dora))

    assert answers.count("already_here") == AT_ONCE - 1
    assert (Repair.objects.count(), StageEvent.objects.count()) == (1, 1)


def test_numbers_of_bookings_at_once_have_no_gap_and_no_twin():
    dora = PersonFactory(role="desk")

    at_once(
        lambda number: book_in(
            facts=booking(unit=UnitWanted(make="T", model="M", serial=str(number))), by=dora
        )
    )

    numbers = sorted(Repair.objects.values_list("number", flat=True))
    assert numbers == list(range(1, AT_ONCE + 1))


def test_one_version_is_changed_once():
    anna, repair = PersonFactory(role="tech"), RepairFactory(stage="on_the_bench")

    answers = at_once(
        lambda number: change_stage(
            repair=Repair.objects.get(), to="on_test", by=anna, expected_version=1
        )
    )

    assert answers.count("stale") == AT_ONCE - 1
    assert StageEvent.objects.filter(repair=repair).count() == 1


def test_one_change_sent_many_times_at_once_is_one_event():
    anna, id = PersonFactory(role="tech"), new_id()
    RepairFactory(stage="on_the_bench")

    answers = at_once(
        lambda number: change_stage(
            repair=Repair.objects.get(), to="on_test", by=anna, expected_version=1, event_id=id
        )
    )

    assert {getattr(answer, "id", answer) for answer in answers} == {id}
    assert StageEvent.objects.count() == 1


def test_one_hand_back_sent_many_times_at_once_is_one(vouched):
    dora, id = PersonFactory(role="desk"), new_id()
    repair = RepairFactory(stage="ready")
    cord = add_piece(unit=repair.unit, name="cord")

    answers = at_once(
        lambda number: hand_back(
            id=id, repair=Repair.objects.get(), by=dora, pieces=[cord.code], expected_version=1
        )
    )

    assert {getattr(answer, "id", answer) for answer in answers} == {id}
    assert StageEvent.objects.count() == 1


def test_what_many_take_at_once_comes_into_one_pair_of_hands():
    crew = [PersonFactory(role="tech", name=f"Tech {number}") for number in range(AT_ONCE)]
    RepairFactory(stage="on_the_bench")

    answers = at_once(
        lambda number: take_repair(id=new_id(), repair=Repair.objects.get(), by=crew[number])
    )

    assert answers.count("in_others_hands") == AT_ONCE - 1
    holder = Repair.objects.get().assigned_to
    assert [event.handed_to for event in StageEvent.objects.all()] == [holder]


def test_one_take_sent_many_times_at_once_is_one_event():
    anna, id = PersonFactory(role="tech"), new_id()
    RepairFactory(stage="on_the_bench")

    answers = at_once(lambda number: take_repair(id=id, repair=Repair.objects.get(), by=anna))

    assert {repair.assigned_to for repair in answers} == {anna}
    assert StageEvent.objects.count() == 1


def test_what_is_handed_to_several_at_once_comes_to_one_of_them():
    anna = PersonFactory(role="tech")
    crew = [PersonFactory(role="tech") for _number in range(AT_ONCE)]
    RepairFactory(stage="on_the_bench", assigned_to=anna)

    answers = at_once(
        lambda number: hand_over(
            id=new_id(), repair=Repair.objects.get(), to=crew[number], by=anna, expected_version=1
        )
    )

    assert answers.count("stale") == AT_ONCE - 1
    assert StageEvent.objects.get().handed_to == Repair.objects.get().assigned_to
