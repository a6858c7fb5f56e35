"""Into whose hands a repair comes: taken, handed over, put back."""

import pytest

from shop.core.errors import BadField, Conflict, NotAllowed, Stale
from shop.core.ids import new_id
from shop.repairs.errors import InOthersHands, NotInYourHands, RepairClosed
from shop.repairs.models import Repair, StageEvent
from shop.repairs.selectors import is_waiting_for, last_hands
from shop.repairs.services import change_plan, change_stage, hand_over, take_repair
from tests.factories.core import PersonFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def ben(db):
    return PersonFactory(username="ben", name="Ben", role="tech")


def events():
    return [
        (event.hands, event.handed_to and event.handed_to.name, event.by and event.by.name)
        for event in StageEvent.objects.exclude(hands="").order_by("at", "id")
    ]


def waits_for(person, repair):
    return is_waiting_for(last_hands([repair.id]).get(repair.id), person)


# Taking


def test_what_nobody_has_is_taken_and_its_history_says_by_whom(anna):
    repair = RepairFactory(stage="on_the_bench")

    take_repair(id=new_id(), repair=repair, by=anna)

    assert Repair.objects.get().assigned_to == anna
    assert events() == [("taken", "Anna", "Anna")]


def test_a_tech_does_not_take_what_another_has_and_is_told_who(anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    with pytest.raises(InOthersHands) as refused:
        take_repair(id=new_id(), repair=repair, by=ben, taken_from=anna.id)

    assert "Anna has it in hand" in str(refused.value)
    assert refused.value.facts["name"] == "Anna"
    assert (Repair.objects.get().assigned_to, events()) == (anna, [])


def test_a_manager_takes_from_somebody_only_by_naming_them(anna, ben, max):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    for named in (None, ben.id):
        with pytest.raises(InOthersHands):
            take_repair(id=new_id(), repair=repair, by=max, taken_from=named)
    take_repair(id=new_id(), repair=repair, by=max, taken_from=anna.id, note="She is ill.")

    assert Repair.objects.get().assigned_to == max
    assert StageEvent.objects.get().reason == "She is ill."


def test_the_desk_takes_nothing_and_nobody_takes_what_has_left(anna, dora):
    here, gone = RepairFactory(), RepairFactory(stage="handed_back")

    with pytest.raises(NotAllowed):
        take_repair(id=new_id(), repair=here, by=dora)
    with pytest.raises(RepairClosed):
        take_repair(id=new_id(), repair=gone, by=anna)

    assert events() == []


def test_taking_again_changes_nothing_with_the_same_id_or_another(anna):
    repair, id = RepairFactory(stage="on_the_bench"), new_id()

    for sent in (id, id, new_id()):
        take_repair(id=sent, repair=repair, by=anna)

    assert events() == [("taken", "Anna", "Anna")]
    assert Repair.objects.get().version == 2


def test_the_id_of_one_take_is_not_that_of_another(anna, ben):
    repair, id = RepairFactory(stage="on_the_bench"), new_id()
    take_repair(id=id, repair=repair, by=anna)

    with pytest.raises(Conflict):
        take_repair(id=id, repair=repair, by=ben)


# Handing over


def test_what_was_handed_over_waits_until_it_is_taken(anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    hand_over(id=new_id(), repair=repair, to=ben, by=anna, note="Rails done, hum is left.")

    assert (Repair.objects.get().assigned_to, waits_for(ben, repair)) == (ben, True)
    take_repair(id=new_id(), repair=repair, by=ben)
    assert not waits_for(ben, repair)
    assert events() == [("handed", "Ben", "Anna"), ("taken", "Ben", "Ben")]


def test_a_tech_hands_over_only_what_they_have_desk_and_manager_anything(anna, ben, dora, max):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    with pytest.raises(NotInYourHands):
        hand_over(id=new_id(), repair=repair, to=max, by=ben)
    hand_over(id=new_id(), repair=repair, to=ben, by=dora)
    hand_over(id=new_id(), repair=repair, to=anna, by=max)

    assert events() == [("handed", "Ben", "Dora"), ("handed", "Anna", "Max")]


@pytest.mark.parametrize("who", ["dora", "stranger", "anna"])
def test_it_is_handed_to_somebody_else_who_works_at_the_bench(anna, dora, stranger, who):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)
    to = {"dora": dora, "stranger": stranger, "anna": anna}[who]

    with pytest.raises(BadField) as refused:
        hand_over(id=new_id(), repair=repair, to=to, by=anna)

    assert refused.value.field == "to"
    assert (Repair.objects.get().assigned_to, events()) == (anna, [])


def test_whoever_has_it_is_not_handed_it_again(anna, dora):
    kept = RepairFactory(stage="on_the_bench", assigned_to=anna)
    free = RepairFactory(stage="on_the_bench")

    for repair, to in ((kept, anna), (free, None)):
        with pytest.raises(BadField) as refused:
            hand_over(id=new_id(), repair=repair, to=to, by=dora)
        assert refused.value.field_code == "already"

    assert events() == []


def test_what_is_put_back_nobody_has_and_anybody_at_the_bench_takes(anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    hand_over(id=new_id(), repair=repair, to=None, by=anna)

    assert Repair.objects.get().assigned_to is None
    take_repair(id=new_id(), repair=repair, by=ben)
    assert events() == [("put_back", None, "Anna"), ("taken", "Ben", "Ben")]


def test_a_hand_over_stands_a_repeat_and_a_stale_one_is_refused(anna, ben):
    repair, id = RepairFactory(stage="on_the_bench", assigned_to=anna), new_id()
    sent = {"id": id, "repair": repair, "to": ben, "by": anna, "expected_version": 1}

    for _again in range(2):
        hand_over(**sent)
    with pytest.raises(Stale):
        hand_over(**{**sent, "id": new_id()})

    assert len(events()) == 1
    with pytest.raises(Conflict):
        hand_over(**{**sent, "note": "other words"})


# The same by other ways


def test_beginning_on_what_was_handed_over_is_taking_it(anna, ben):
    repair = RepairFactory(stage="looking_over", assigned_to=anna)
    hand_over(id=new_id(), repair=repair, to=ben, by=anna)

    change_stage(repair=repair, to="on_the_bench", by=ben)

    assert not waits_for(ben, repair)


def test_the_plan_hands_over_as_well_and_waits_to_be_taken(anna, dora):
    repair = RepairFactory(stage="on_the_bench")

    change_plan(repair=repair, expected_version=1, by=dora, assigned_to=anna)

    assert waits_for(anna, repair)
    assert events() == [("handed", "Anna", "Dora")]


def test_the_plan_is_no_way_round_the_rules_of_taking(anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    with pytest.raises(InOthersHands):
        change_plan(repair=repair, expected_version=1, by=ben, assigned_to=ben)
    with pytest.raises(NotInYourHands):
        change_plan(repair=repair, expected_version=1, by=ben, assigned_to=None)

    assert (Repair.objects.get().assigned_to, events()) == (anna, [])
