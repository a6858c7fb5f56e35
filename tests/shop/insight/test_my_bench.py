"""My bench: in hand, waiting, off the bench, to be taken."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from shop.core.ids import new_id
from shop.insight.selectors import my_bench
from shop.jobs.models import Revision
from shop.jobs.services import apply_operations, see_mentions
from shop.repairs.services import acknowledge_closed_up, change_stage, hand_over, take_repair
from shop.stock.services import put_in, reserve_part, take_part
from tests.factories.core import NOW, PersonFactory
from tests.factories.jobs import Phone, caution, look, on_the_bench, reading, started, template
from tests.factories.stock import StockLevelFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
HOLD = {"id": "hold", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True}


@pytest.fixture
def ben(db):
    return PersonFactory(username="ben", name="Ben", role="tech")


def seen_by(person):
    return my_bench(person, now=timezone.now())


def numbers(rows):
    return [int(row["number"]) for row in rows]


def waiting(person):
    return [(row["kind"], int(row["repair"]["number"])) for row in seen_by(person)["waiting"]]


def today(days=0):
    return timezone.localdate() + timedelta(days=days)


# In hand


def test_in_hand_is_what_i_took_and_work_promised_soonest_first(anna, ben):
    for number, due in ((1, None), (2, today(5)), (3, today(1))):
        RepairFactory(number=number, stage="on_the_bench", assigned_to=anna, due_on=due)
    RepairFactory(number=4, stage="on_the_bench", assigned_to=ben, due_on=today())
    RepairFactory(number=5, stage="handed_back", assigned_to=anna, due_on=today())

    assert numbers(seen_by(anna)["in_hand"]) == [3, 2, 1]


def test_a_row_says_whether_it_is_late_or_due_today(anna):
    for number, days in ((1, -1), (2, 0), (3, 1)):
        RepairFactory(number=number, stage="on_test", assigned_to=anna, due_on=today(days))

    rows = seen_by(anna)["in_hand"]

    assert [(row["is_late"], row["is_due_today"]) for row in rows] == [
        (True, False), (False, True), (False, False),
    ]  # fmt: skip


def test_an_open_worksheet_says_how_far_it_has_come_and_what_is_next(anna):
    sheet = started(template(caution(), look(), reading()), by=anna)
    sheet.repair.assigned_to = anna
    sheet.repair.save(update_fields=["assigned_to"])
    phone = Phone(anna, sheet)
    send(anna, phone.acknowledge(), phone.choose("cord", "damaged"))

    (row,) = seen_by(anna)["in_hand"]

    (progress,) = row["worksheets"]
    assert (progress["done"], progress["of"], progress["failed"]) == (2, 3, 1)
    assert progress["next"] == "Rail"


def test_no_row_names_a_customer(anna):
    RepairFactory(stage="on_the_bench", assigned_to=anna, customer__name="Ottilie Otter")
    RepairFactory(customer__name="Ottilie Otter")

    assert "Ottilie" not in str(seen_by(anna))


def send(person, *operations):
    results = apply_operations(person=person, device_id=None, operations=operations)
    assert {result.outcome for result in results} == {"applied"}


# Waiting for me


def test_what_was_handed_to_me_waits_until_i_take_it(anna, ben):
    repair = RepairFactory(number=7, stage="on_the_bench", assigned_to=anna)
    hand_over(id=new_id(), repair=repair, to=ben, by=anna, note="Hum is left.")

    found = seen_by(ben)

    assert found["in_hand"] == []
    (row,) = found["waiting"]
    assert (row["kind"], row["by_name"], row["text"]) == ("handed", "Anna", "Hum is left.")
    take_repair(id=new_id(), repair=repair, by=ben)
    found = seen_by(ben)
    assert (numbers(found["in_hand"]), found["waiting"]) == ([7], [])


def test_a_note_that_names_me_waits_until_i_have_seen_it(anna, ben):
    repair = RepairFactory(number=7, stage="on_the_bench")
    send(anna, Phone(anna, repair=repair).entry("note", text="@Ben?", mentions=[str(ben.id)]))

    (row,) = seen_by(ben)["waiting"]

    assert (row["kind"], row["text"], row["by_name"]) == ("note", "@Ben?", "Anna")
    see_mentions(ids=[row["mention"]], by=ben)
    assert waiting(ben) == []


def test_a_hold_point_waits_for_somebody_other_than_who_worked(anna, ben, dora):
    sheet = started(template(caution(), look(), HOLD), by=anna)
    phone = Phone(anna, sheet)
    send(anna, phone.acknowledge(), phone.choose("cord", "sound"))

    assert waiting(ben) == [("sign_off", sheet.repair.number)]
    assert waiting(anna) == waiting(dora) == []


def test_a_hold_point_of_the_manager_waits_for_the_manager(anna, ben, max):
    hold = {**HOLD, "role": "manager", "other_person": False}
    sheet = started(template(caution(), look(), hold), by=anna)
    phone = Phone(anna, sheet)
    send(anna, phone.acknowledge(), phone.choose("cord", "sound"))

    (row,) = seen_by(max)["waiting"]

    assert (row["kind"], row["worksheet"], row["step"]) == ("sign_off", sheet.id, "hold")
    assert waiting(ben) == []


def test_a_signature_that_whoever_works_may_give_waits_for_nobody_else(anna, ben):
    sheet = started(template(caution(), look(), {**HOLD, "other_person": False}), by=anna)
    phone = Phone(anna, sheet)
    send(anna, phone.acknowledge(), phone.choose("cord", "sound"))

    assert waiting(ben) == []


@pytest.mark.parametrize(
    ("through", "kind"),
    [("on_test", "test_failed"), ("awaiting_go_ahead", "go_ahead"), ("awaiting_parts", "parts")],
)
def test_what_comes_back_to_the_bench_waits_until_i_go_on_with_it(anna, max, through, kind):
    repair = RepairFactory(number=7, stage="on_the_bench", assigned_to=anna)
    change_stage(repair=repair, to=through, by=anna)
    assert waiting(anna) == []

    change_stage(repair=repair, to="on_the_bench", by=max, reason="here it is")

    (row,) = seen_by(anna)["waiting"]
    assert (row["kind"], row["by_name"], row["text"]) == (kind, "Max", "here it is")
    send(anna, Phone(anna, repair=repair).entry("note", text="Go on."))
    assert waiting(anna) == []


def test_what_i_brought_back_myself_does_not_wait_for_me(anna):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    for to in ("on_test", "on_the_bench"):
        change_stage(repair=repair, to=to, by=anna)

    assert waiting(anna) == []


def test_parts_that_have_come_are_told_to_who_waits_for_them(anna):
    repair = RepairFactory(number=7, stage="awaiting_parts", assigned_to=anna)
    level = StockLevelFactory(on_hand=0)
    take_part(id=new_id(), part=level.part, quantity=1, repair=repair, by=anna, at=NOW)
    assert waiting(anna) == []

    put_in(id=new_id(), part=level.part, bin=level.bin, quantity=1, by=anna, at=NOW)

    assert waiting(anna) == [("parts_here", 7)]


def test_parts_set_aside_for_another_have_not_come_for_me(anna, ben):
    mine = RepairFactory(number=7, stage="awaiting_parts", assigned_to=anna)
    level = StockLevelFactory(on_hand=0)
    take_part(id=new_id(), part=level.part, quantity=1, repair=mine, by=anna, at=NOW)
    put_in(id=new_id(), part=level.part, bin=level.bin, quantity=1, by=anna, at=NOW)
    level.refresh_from_db()

    reserve_part(id=new_id(), repair=RepairFactory(), level=level, quantity=1, by=ben, at=NOW)

    assert waiting(anna) == []


def test_what_leaves_unrepaired_waits_to_be_closed_up(anna):
    repair = RepairFactory(number=7, stage="declined", assigned_to=anna)
    assert waiting(anna) == [("close_up", 7)]

    acknowledge_closed_up(repair=repair, by=anna)

    assert waiting(anna) == []


# Off the bench, and to be taken


def test_what_waits_for_others_says_why(anna):
    RepairFactory(
        number=7, stage="awaiting_go_ahead", assigned_to=anna,
        stage_since=timezone.now() - timedelta(days=3),
    )  # fmt: skip

    (row,) = seen_by(anna)["off_bench"]

    assert row["why"] == "waiting for a go-ahead for 3 days, but no estimate was sent"
    assert row["waiting_for"] == "the customer"


def test_what_nobody_has_can_be_taken_promised_soonest_first(anna, ben):
    RepairFactory(number=1, due_on=today(9))
    RepairFactory(number=2, stage="on_the_bench", due_on=today(2))
    RepairFactory(number=3, stage="on_the_bench", assigned_to=ben, due_on=today(1))
    RepairFactory(number=4, stage="awaiting_parts", due_on=today(1))

    assert numbers(seen_by(anna)["free"]) == [2, 1]


def test_colleagues_are_named_and_who_left_is_not(anna, ben, stranger):
    people = seen_by(anna)["people"]

    assert [(one["name"], one["role"]) for one in people] == [("Anna", "tech"), ("Ben", "tech")]


# The cost


def everything_at_once(anna, ben, times):
    for _more in range(times):
        sheet = started(template(caution(), look(), HOLD), by=ben, repair=on_the_bench())
        phone = Phone(ben, sheet)
        send(ben, phone.acknowledge(), phone.choose("cord", "sound"))
        Phone(ben, repair=sheet.repair)
        send(ben, Phone(ben, repair=sheet.repair).entry("note", text="@", mentions=[str(anna.id)]))
        hand_over(id=new_id(), repair=mine_in("on_the_bench", ben), to=anna, by=ben)
        own = started(template(caution(), look(), slug="own"), by=anna, repair=on_the_bench())
        take_repair(id=new_id(), repair=own.repair, by=anna)
        back = mine_in("on_test", anna)
        change_stage(repair=back, to="on_the_bench", by=ben)
        for stage in ("awaiting_go_ahead", "awaiting_other", "ready", "declined"):
            mine_in(stage, anna)
        level = StockLevelFactory(on_hand=0)
        short = mine_in("awaiting_parts", anna)
        take_part(id=new_id(), part=level.part, quantity=1, repair=short, by=anna, at=NOW)
        put_in(id=new_id(), part=level.part, bin=level.bin, quantity=1, by=anna, at=NOW)
        RepairFactory(stage="booked_in")


def mine_in(stage, person):
    return RepairFactory(stage=stage, assigned_to=person)


def test_the_number_of_queries_does_not_grow_with_the_work(anna, ben):
    everything_at_once(anna, ben, 1)
    assert Revision.objects.count() == 2
    with CaptureQueriesContext(connection) as few:
        one = seen_by(anna)

    everything_at_once(anna, ben, 3)
    with CaptureQueriesContext(connection) as many:
        four = seen_by(anna)

    assert {len(four[name]) // len(one[name]) for name in ("in_hand", "waiting", "off_bench")} == {
        4
    }
    assert len(many) == len(few) <= 36
