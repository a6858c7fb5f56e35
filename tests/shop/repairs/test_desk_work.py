"""Plan, labour, power, closing up and handing back."""

from datetime import date

import pytest

from shop.core.errors import BadField, Conflict, Stale
from shop.core.ids import new_id
from shop.repairs.errors import NotClosedUp, RepairClosed, StageNotAllowed
from shop.repairs.models import Repair, StageEvent
from shop.repairs.services import (
    acknowledge_closed_up,
    change_plan,
    correct_labour,
    hand_back,
    set_unit_power,
)
from shop.units.errors import PiecesMissing
from shop.units.services import add_piece
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
SVG = '<svg viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>'


@pytest.fixture
def ready(vouched):
    repair = RepairFactory(stage="ready")
    for name in ("mains cord", "footswitch"):
        add_piece(unit=repair.unit, name=name)
    return repair


def codes_of(repair):
    return list(repair.unit.pieces.order_by("name").values_list("code", flat=True))


def test_day_and_tech_change_together_and_make_one_new_version(anna):
    repair = RepairFactory()

    change_plan(repair=repair, expected_version=1, due_on=date(2026, 3, 9), assigned_to=anna)

    kept = Repair.objects.get()
    assert (kept.due_on, kept.assigned_to, kept.version) == (date(2026, 3, 9), anna, 2)


def test_what_was_not_sent_stays_and_nothing_new_makes_no_version(anna):
    repair = RepairFactory(due_on=date(2026, 3, 9), assigned_to=anna)

    change_plan(repair=repair, expected_version=1, due_on=date(2026, 3, 9))

    kept = Repair.objects.get()
    assert (kept.assigned_to, kept.version) == (anna, 1)


def test_nobody_and_no_day_can_be_set(anna):
    repair = RepairFactory(due_on=date(2026, 3, 9), assigned_to=anna)

    change_plan(repair=repair, expected_version=1, due_on=None, assigned_to=None)

    kept = Repair.objects.get()
    assert (kept.due_on, kept.assigned_to) == (None, None)


def test_a_corrected_set_for_is_an_event_and_stands_on_the_unit(anna):
    repair = RepairFactory(stage="awaiting_parts", set_for_volt=230, set_for_hz=50)

    change_plan(repair=repair, expected_version=1, by=anna, set_for_volt=120, set_for_hz=60)

    kept = Repair.objects.select_related("unit").get()
    event = StageEvent.objects.get()
    assert (kept.set_for_volt, kept.set_for_hz, kept.version) == (120, 60, 2)
    assert (kept.unit.set_for_volt, kept.unit.set_for_hz) == (120, 60)
    assert (event.from_stage, event.to_stage, event.by) == ("awaiting_parts",) * 2 + (anna,)
    assert event.reason == "“Set for” corrected from 230 V, 50 Hz to 120 V, 60 Hz."
    assert kept.stage == "awaiting_parts"


def test_the_same_set_for_again_is_no_event(anna):
    repair = RepairFactory(set_for_volt=230, set_for_hz=50)

    change_plan(repair=repair, expected_version=1, by=anna, set_for_volt=230)

    assert Repair.objects.get().version == 1
    assert not StageEvent.objects.exists()


def test_the_set_for_of_a_closed_repair_stays(anna):
    repair = RepairFactory(stage="handed_back", set_for_volt=230)

    with pytest.raises(RepairClosed):
        change_plan(repair=repair, expected_version=1, by=anna, set_for_volt=120)

    assert Repair.objects.get().set_for_volt == 230
    assert not StageEvent.objects.exists()


def test_a_plan_from_an_old_state_is_stale_and_changes_nothing():
    repair = RepairFactory(version=3)

    with pytest.raises(Stale):
        change_plan(repair=repair, expected_version=2, due_on=date(2026, 3, 9))

    assert Repair.objects.get().due_on is None


def test_a_closed_repair_has_no_plan():
    repair = RepairFactory(stage="handed_back")

    with pytest.raises(RepairClosed):
        change_plan(repair=repair, expected_version=1, due_on=date(2026, 3, 9))

    assert Repair.objects.get().due_on is None


def test_nobody_who_left_gets_a_repair(stranger):
    repair = RepairFactory()

    with pytest.raises(BadField) as refused:
        change_plan(repair=repair, expected_version=1, assigned_to=stranger)

    assert refused.value.field == "assigned_to"
    assert Repair.objects.get().assigned_to is None


def test_labour_is_corrected_and_given_back_to_the_worksheets():
    repair = RepairFactory()

    correct_labour(repair=repair, minutes=25, expected_version=1)
    by_hand = Repair.objects.get().labour_minutes_corrected
    correct_labour(repair=repair, minutes=None, expected_version=2)

    assert by_hand == 25
    assert Repair.objects.get().labour_minutes_corrected is None


@pytest.mark.parametrize("minutes", [-1, 60 * 24 * 60 + 1])
def test_impossible_labour_is_refused(minutes):
    repair = RepairFactory()

    with pytest.raises(BadField) as refused:
        correct_labour(repair=repair, minutes=minutes, expected_version=1)

    assert refused.value.field == "minutes"
    assert Repair.objects.get().version == 1


@pytest.mark.parametrize("stage", ["declined", "beyond_repair"])
def test_an_unrepaired_unit_is_never_cleared_for_power(anna, stage):
    repair = RepairFactory(stage=stage)

    with pytest.raises(StageNotAllowed):
        set_unit_power(unit=repair.unit, cleared=True, reason="looks fine", by=anna)

    repair.unit.refresh_from_db()
    assert repair.unit.do_not_power


def test_a_tech_clears_a_unit_on_the_bench(anna):
    repair = RepairFactory(stage="on_the_bench")

    set_unit_power(unit=repair.unit, cleared=True, reason="cold gate passed", by=anna)

    repair.unit.refresh_from_db()
    assert not repair.unit.do_not_power


def test_only_a_unit_that_leaves_unrepaired_is_closed_up(anna):
    repair = RepairFactory(stage="ready")

    with pytest.raises(StageNotAllowed):
        acknowledge_closed_up(repair=repair, by=anna)

    assert Repair.objects.get().closed_up_at is None


def test_closing_up_twice_keeps_the_first(anna, dora):
    repair = RepairFactory(stage="declined")

    acknowledge_closed_up(repair=repair, by=anna)
    acknowledge_closed_up(repair=repair, by=dora)

    kept = Repair.objects.get()
    assert (kept.closed_up_by, kept.version) == (anna, 2)


def test_handing_back_ticks_off_the_pieces_and_closes(ready, dora):
    signature = {"svg": SVG, "strokes": [[0, 0]], "name": "Rosa"}

    event = hand_back(
        id=new_id(), repair=ready, by=dora, pieces=codes_of(ready), signature=signature
    )

    kept = Repair.objects.get()
    assert (kept.stage, kept.closed_at) == ("handed_back", event.at)
    assert kept.fetched_signature["name"] == "Rosa"
    assert set(kept.unit.pieces.values_list("state", flat=True)) == {"handed_back"}


def test_a_piece_that_was_not_ticked_stops_it_and_leaves_no_trace(ready, dora):
    with pytest.raises(PiecesMissing):
        hand_back(id=new_id(), repair=ready, by=dora, pieces=codes_of(ready)[:1])

    assert Repair.objects.get().stage == "ready"
    assert set(ready.unit.pieces.values_list("state", flat=True)) == {"here"}
    assert not StageEvent.objects.exists()


def test_a_missing_piece_with_a_reason_is_in_the_event(ready, dora):
    event = hand_back(
        id=new_id(),
        repair=ready,
        by=dora,
        pieces=codes_of(ready)[1:],
        missing_reason="footswitch fetched earlier",
    )

    assert event.reason == "footswitch fetched earlier"
    assert ready.unit.pieces.get(name="footswitch").state == "missing"


def test_the_same_hand_back_sent_twice_is_one(ready, dora):
    sent = {"id": new_id(), "by": dora, "pieces": codes_of(ready), "expected_version": 1}

    first = hand_back(repair=ready, **sent)
    again = hand_back(repair=Repair.objects.get(), **sent)

    assert first == again
    assert StageEvent.objects.count() == 1


def test_the_id_of_another_change_is_a_conflict(ready, dora):
    id = new_id()
    StageEvent.objects.create(
        id=id, repair=ready, from_stage="on_test", to_stage="ready", at=ready.stage_since
    )

    with pytest.raises(Conflict):
        hand_back(id=id, repair=ready, by=dora, pieces=codes_of(ready))

    assert Repair.objects.get().stage == "ready"


def test_a_unit_on_the_bench_is_not_handed_back_and_keeps_its_pieces(vouched, dora):
    repair = RepairFactory(stage="on_the_bench")
    cord = add_piece(unit=repair.unit, name="cord")

    with pytest.raises(StageNotAllowed):
        hand_back(id=new_id(), repair=repair, by=dora, pieces=[cord.code])

    cord.refresh_from_db()
    assert cord.state == "here"


def test_an_unrepaired_unit_leaves_with_a_word_that_it_is_closed_up(vouched, dora):
    repair = RepairFactory(stage="beyond_repair")

    with pytest.raises(NotClosedUp):
        hand_back(id=new_id(), repair=repair, by=dora, pieces=[])
    hand_back(id=new_id(), repair=Repair.objects.get(), by=dora, pieces=[], is_closed_up=True)

    kept = Repair.objects.get()
    assert (kept.stage, kept.outcome) == ("handed_back", "unrepaired")
    assert kept.closed_up_by == dora
    assert kept.unit.do_not_power


def test_handing_back_from_an_old_state_is_stale(ready, dora):
    Repair.objects.filter(id=ready.id).update(version=9)

    with pytest.raises(Stale):
        hand_back(id=new_id(), repair=ready, by=dora, pieces=codes_of(ready), expected_version=1)

    assert set(ready.unit.pieces.values_list("state", flat=True)) == {"here"}
