"""The table of stages: who may do what, what it requires, and that nothing skips it."""

import pytest
from django.db import IntegrityError, transaction

from shop.core.errors import BadField, Conflict, NotAllowed, Stale
from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.repairs import stages
from shop.repairs.errors import (
    NotClosedUp,
    PaymentDue,
    PiecesStillHere,
    RequirementMissing,
    SafetyCheckMissing,
    StageNotAllowed,
    WorksheetsUnfinished,
)
from shop.repairs.models import Repair, Stage, StageEvent
from shop.repairs.services import acknowledge_closed_up, change_stage, move_to_ready
from shop.units.services import add_piece
from tests.factories.core import PersonFactory
from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
ROLES = ("desk", "tech", "manager", stages.SYSTEM)

# Written out beside the table, so that a slip in the table is seen: from > to: who may.
WHO_MAY = """
booked_in > looking_over: tech manager system
booked_in > declined: desk manager
looking_over > awaiting_go_ahead: desk tech manager system
looking_over > on_the_bench: tech manager system
looking_over > declined: desk manager
looking_over > beyond_repair: tech manager
awaiting_go_ahead > on_the_bench: desk manager system
awaiting_go_ahead > looking_over: tech manager
awaiting_go_ahead > declined: desk manager system
on_the_bench > awaiting_go_ahead: desk tech manager system
on_the_bench > awaiting_parts: tech manager
on_the_bench > awaiting_other: tech manager
on_the_bench > on_test: tech manager system
on_the_bench > declined: desk manager
on_the_bench > beyond_repair: tech manager
awaiting_parts > on_the_bench: desk tech manager system
awaiting_parts > declined: desk manager
awaiting_other > on_the_bench: desk tech manager
awaiting_other > declined: desk manager
on_test > on_the_bench: tech manager system
on_test > awaiting_go_ahead: desk tech manager system
on_test > ready: tech manager system
ready > on_the_bench: desk tech manager
ready > handed_back: desk manager
ready > unclaimed: desk manager system
declined > on_the_bench: desk manager
declined > handed_back: desk manager
declined > unclaimed: desk manager system
beyond_repair > on_the_bench: manager
beyond_repair > handed_back: desk manager
beyond_repair > unclaimed: desk manager system
beyond_repair > disposed: manager
unclaimed > handed_back: desk manager
unclaimed > disposed: manager
"""


def who_may():
    for line in WHO_MAY.strip().splitlines():
        change, roles = line.split(": ")
        yield tuple(change.split(" > ")), set(roles.split())


def person_in(role):
    return None if role == stages.SYSTEM else PersonFactory(role=role)


@pytest.mark.parametrize("role", ROLES)
def test_every_role_may_what_the_list_says_and_nothing_else(role, vouched):
    may = {change for change, roles in who_may() if role in roles}
    by, allowed = person_in(role), set()

    for before in Stage.values:
        repair = RepairFactory(stage=before)
        acknowledged = {"closed_up_at": repair.stage_since, "closed_up_by": PersonFactory()}
        Repair.objects.filter(id=repair.id).update(**acknowledged)
        repair.refresh_from_db()
        for to in Stage.values:
            try:
                stages.require_allowed(repair, to, by)
            except (StageNotAllowed, NotAllowed):
                continue
            allowed.add((before, to))

    assert allowed == may


@pytest.mark.parametrize("before", Stage.values)
def test_only_a_test_leads_to_ready(before):
    leads = (before, Stage.READY) in stages.TABLE

    assert leads == (before == Stage.ON_TEST)


def test_a_change_is_an_event_with_actor_time_reason_and_the_next_version(anna):
    repair = RepairFactory(stage="on_the_bench")

    event = change_stage(repair=repair, to="awaiting_parts", by=anna, reason=" fuse holder ")

    kept = Repair.objects.get()
    assert (event.from_stage, event.to_stage) == ("on_the_bench", "awaiting_parts")
    assert (event.by, event.reason) == (anna, "fuse holder")
    assert (kept.stage, kept.stage_since, kept.version) == ("awaiting_parts", event.at, 2)
    assert repair.version == 2


def test_a_change_the_table_does_not_know_leaves_no_trace(max):
    repair = RepairFactory(stage="booked_in")

    with pytest.raises(StageNotAllowed, match=r"booked in.*handed back"):
        change_stage(repair=repair, to="handed_back", by=max)

    assert_untouched(repair, "booked_in")


def test_a_role_that_may_not_leaves_no_trace(dora):
    repair = RepairFactory(stage="on_the_bench")

    with pytest.raises(NotAllowed, match="tech, manager"):
        change_stage(repair=repair, to="on_test", by=dora)

    assert_untouched(repair, "on_the_bench")


def test_a_change_that_needs_a_reason_names_the_field(dora):
    repair = RepairFactory(stage="looking_over")

    with pytest.raises(BadField) as refused:
        change_stage(repair=repair, to="declined", by=dora, reason="  ")

    assert refused.value.field == "reason"
    assert_untouched(repair, "looking_over")


def test_a_change_from_an_old_state_is_stale(anna):
    repair = RepairFactory(stage="on_the_bench", version=5)

    with pytest.raises(Stale):
        change_stage(repair=repair, to="on_test", by=anna, expected_version=4)

    assert_untouched(repair, "on_the_bench")


def test_the_same_change_sent_twice_is_one_event_even_from_the_old_version(anna):
    repair = RepairFactory(stage="on_the_bench")
    sent = {"to": "on_test", "by": anna, "expected_version": 1, "event_id": new_id()}

    first = change_stage(repair=repair, **sent)
    again = change_stage(repair=repair, **sent)

    assert first == again
    assert StageEvent.objects.count() == 1
    assert Repair.objects.get().version == 2


def test_the_same_id_for_another_change_is_a_conflict(anna):
    repair, id = RepairFactory(stage="on_the_bench"), new_id()
    change_stage(repair=repair, to="on_test", by=anna, event_id=id)

    with pytest.raises(Conflict):
        change_stage(repair=repair, to="on_the_bench", by=anna, event_id=id)

    assert Repair.objects.get().stage == "on_test"


@pytest.mark.parametrize(
    ("name", "error"),
    [("safety_check_passed", SafetyCheckMissing), ("worksheets_passed", WorksheetsUnfinished)],
)
def test_nothing_becomes_ready_while_a_requirement_is_missing(anna, vouched, says_no, name, error):
    repair = RepairFactory(stage="on_test")
    says_no(name, "Worksheet 2 has failed.")

    with pytest.raises(error, match="Worksheet 2 has failed"):
        change_stage(repair=repair, to="ready", by=anna)

    assert_untouched(repair, "on_test")


def test_a_requirement_that_nobody_answers_for_is_not_fulfilled(anna, vouched, monkeypatch):
    repair = RepairFactory(stage="on_test")
    monkeypatch.delitem(stages._requirements, "safety_check_passed")

    with pytest.raises(SafetyCheckMissing):
        change_stage(repair=repair, to="ready", by=anna)

    assert_untouched(repair, "on_test")


def test_ready_tells_the_customer_and_has_report_and_a_new_tag_drawn_once(anna, vouched):
    repair = RepairFactory(stage="on_test")

    event = change_stage(repair=repair, to="ready", by=anna)

    work = {row.kind: row.payload for row in OutboxEvent.objects.all()}
    ids = {"repair_id": str(repair.id), "cause_id": str(event.id)}
    assert work == {
        "notices.tell_customer": {"kind": "ready", **ids},
        "documents.issue_test_report": ids,
        "documents.issue": {"kind": "tag", **ids},
    }


def test_a_unit_that_is_ready_may_be_powered_and_one_left_unrepaired_may_not(anna, dora, vouched):
    ready, left = RepairFactory(stage="on_test"), RepairFactory(stage="on_the_bench")

    change_stage(repair=ready, to="ready", by=anna)
    change_stage(repair=left, to="beyond_repair", by=anna, reason="core is gone")

    ready.unit.refresh_from_db()
    left.unit.refresh_from_db()
    assert ready.unit.do_not_power is False
    assert left.unit.do_not_power is True


def test_passed_worksheets_bring_a_repair_from_the_bench_through_the_test(vouched):
    repair = RepairFactory(stage="on_the_bench")

    move_to_ready(repair=repair, by=None, reason="all worksheets passed")

    assert [e.to_stage for e in StageEvent.objects.order_by("at", "id")] == ["on_test", "ready"]
    assert repair.stage == "ready"


def test_a_missing_safety_check_leaves_the_repair_on_the_bench(vouched, says_no):
    repair = RepairFactory(stage="on_the_bench")
    says_no("safety_check_passed")

    with pytest.raises(SafetyCheckMissing):
        move_to_ready(repair=repair, by=None)

    assert_untouched(repair, "on_the_bench")


@pytest.mark.parametrize(("to", "by"), [("declined", "dora"), ("beyond_repair", "anna")])
def test_a_unit_that_stays_unrepaired_is_labelled_and_its_customer_told(to, by, request):
    repair = RepairFactory(stage="looking_over", unit__do_not_power=False)

    event = change_stage(
        repair=repair, to=to, by=request.getfixturevalue(by), reason="costs more than it is worth"
    )

    repair.unit.refresh_from_db()
    row = OutboxEvent.objects.get()
    assert repair.unit.do_not_power
    assert (row.kind, row.payload["kind"]) == ("notices.tell_customer", "leaves_unrepaired")
    assert row.payload["cause_id"] == str(event.id)


def test_an_unrepaired_unit_does_not_leave_before_somebody_closed_it_up(dora, anna, vouched):
    repair = RepairFactory(stage="declined")

    with pytest.raises(NotClosedUp):
        change_stage(repair=repair, to="handed_back", by=dora)
    acknowledge_closed_up(repair=repair, by=anna)
    change_stage(repair=repair, to="handed_back", by=dora)

    kept = Repair.objects.get()
    assert (kept.stage, kept.outcome, kept.closed_up_by) == ("handed_back", "unrepaired", anna)
    assert kept.closed_at == kept.stage_since


def test_an_unrepaired_unit_that_was_not_fetched_is_still_to_be_closed_up(dora, vouched):
    repair = RepairFactory(stage="looking_over")
    change_stage(repair=repair, to="declined", by=dora, reason="too dear")
    change_stage(repair=repair, to="unclaimed", by=None)

    with pytest.raises(NotClosedUp):
        change_stage(repair=repair, to="handed_back", by=dora)

    assert Repair.objects.get().stage == "unclaimed"


def test_a_repaired_unit_that_was_not_fetched_leaves_as_any_other(anna, dora, vouched):
    repair = RepairFactory(stage="on_test")
    change_stage(repair=repair, to="ready", by=anna)
    change_stage(repair=repair, to="unclaimed", by=None)

    change_stage(repair=repair, to="handed_back", by=dora)

    assert Repair.objects.get().outcome == "repaired"


def test_opening_a_unit_again_takes_back_that_it_was_closed_up(dora, anna):
    repair = RepairFactory(stage="declined")
    acknowledge_closed_up(repair=repair, by=anna)

    change_stage(repair=repair, to="on_the_bench", by=dora, reason="customer agreed after all")

    kept = Repair.objects.get()
    assert kept.closed_up_at is None
    assert kept.closed_up_by is None


def test_a_piece_that_is_still_here_keeps_its_unit_here(dora, vouched):
    repair = RepairFactory(stage="ready")
    add_piece(unit=repair.unit, name="footswitch")

    with pytest.raises(PiecesStillHere, match="footswitch"):
        change_stage(repair=repair, to="handed_back", by=dora)

    assert_untouched(repair, "ready")


def test_what_is_still_to_be_paid_keeps_the_unit_here(dora, vouched, says_no):
    repair = RepairFactory(stage="ready")
    says_no("paid_or_agreed", "Still to be paid: 35.00.")

    with pytest.raises(PaymentDue, match=r"35\.00"):
        change_stage(repair=repair, to="handed_back", by=dora)

    assert_untouched(repair, "ready")


def test_choices_come_with_what_they_still_require(anna, dora, vouched, says_no):
    repair = RepairFactory(stage="on_test")
    says_no("safety_check_passed", "No safety check yet.")

    assert stages.allowed_changes(repair, anna) == [
        ("on_the_bench", None),
        ("awaiting_go_ahead", None),
        ("ready", "No safety check yet."),
    ]
    assert stages.allowed_changes(repair, dora) == [("awaiting_go_ahead", None)]


def test_every_requirement_of_the_table_has_an_error_of_its_own():
    names = {name for change in stages.TABLE.values() for name in change.requires}

    assert names == stages.ERRORS.keys()
    assert len({error.code for error in stages.ERRORS.values()}) == len(names)
    assert RequirementMissing.code not in {error.code for error in stages.ERRORS.values()}


def test_the_database_knows_no_other_stage():
    with pytest.raises(IntegrityError, match="repair_stage_is_known"), transaction.atomic():
        RepairFactory(stage="lost")


def test_the_database_keeps_one_open_repair_per_unit():
    repair = RepairFactory(stage="ready")

    with pytest.raises(IntegrityError), transaction.atomic():
        RepairFactory(unit=repair.unit, stage="booked_in")
    RepairFactory(unit=repair.unit, stage="handed_back")
    RepairFactory(unit=repair.unit, stage="disposed")

    assert Repair.objects.filter(unit=repair.unit).count() == 3


def test_the_database_keeps_one_repair_per_number():
    RepairFactory(number=7)

    with pytest.raises(IntegrityError), transaction.atomic():
        RepairFactory(number=7)


def assert_untouched(repair, stage):
    kept = Repair.objects.get(id=repair.id)
    assert (kept.stage, kept.version) == (stage, repair.version)
    assert not StageEvent.objects.filter(repair=repair).exists()
    assert not OutboxEvent.objects.exists()


def test_a_tech_who_begins_on_what_nobody_has_in_hand_has_it_in_hand(anna):
    repair = RepairFactory(stage="booked_in")

    change_stage(repair=repair, to="looking_over", by=anna)

    repair.refresh_from_db()
    assert repair.assigned_to == anna


def test_a_repair_in_somebody_elses_hand_stays_there(anna):
    other = PersonFactory(role="tech")
    repair = RepairFactory(stage="looking_over", assigned_to=other)

    change_stage(repair=repair, to="on_the_bench", by=anna)

    repair.refresh_from_db()
    assert repair.assigned_to == other


def test_a_manager_who_moves_a_repair_on_does_not_take_it(max):
    repair = RepairFactory(stage="booked_in")

    change_stage(repair=repair, to="looking_over", by=max)

    repair.refresh_from_db()
    assert repair.assigned_to is None
