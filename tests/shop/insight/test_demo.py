"""The invented shop keeps the rules of a real one."""

from itertools import pairwise

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.utils import timezone

from shop.billing.selectors import account
from shop.calc.codes import read_code
from shop.core.models import OutboxEvent, Person
from shop.insight.demo import LOGINS, load_demo
from shop.insight.selectors import board, my_bench
from shop.jobs.models import Entry, JobTemplate, Worksheet
from shop.jobs.selectors import first_break_of
from shop.repairs import stages
from shop.repairs.models import Repair, Stage
from shop.stock.models import PurchaseOrder
from shop.stock.selectors import check_levels
from shop.units.models import ModelSheet, Unit

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo(db):
    assert load_demo(now=timezone.now())


def test_the_demo_has_people_sheets_templates_and_repairs_in_all_stages(demo):
    open_stages = set(Repair.objects.values_list("stage", flat=True))

    assert Person.objects.count() == 4
    assert ModelSheet.objects.count() == 12
    assert JobTemplate.objects.count() >= 4
    assert 55 <= Repair.objects.count() <= 65
    assert open_stages == set(Stage.values) - {Stage.DISPOSED}


def test_nobody_is_written_to_and_only_papers_wait_to_be_drawn(demo):
    kinds = set(OutboxEvent.objects.values_list("kind", flat=True))

    assert kinds == {"documents.issue", "documents.issue_test_report"}
    assert mail.outbox == []


def test_loading_twice_changes_nothing(demo):
    before = list(Repair.objects.order_by("id").values())

    assert load_demo(now=timezone.now()) is False

    assert list(Repair.objects.order_by("id").values()) == before


def test_something_waits_for_every_tech_this_morning(demo):
    waiting = {
        name: {row["kind"] for row in my_bench(person, now=timezone.now())["waiting"]}
        for name, person in ((one.username, one) for one in Person.objects.filter(role="tech"))
    }

    assert {"handed", "note"} <= waiting["anna"]
    assert "handed" in waiting["ben"]


def test_books_in_use_are_left_alone(anna):
    with pytest.raises(CommandError, match="real shop"):
        call_command("load_demo")

    assert not Repair.objects.exists()


def test_each_login_is_printed_and_long_enough(db, capsys):
    call_command("load_demo")

    printed = [line for line in capsys.readouterr().out.splitlines() if line.startswith("login: ")]
    assert len(printed) == len(LOGINS) == 4
    for line in printed:
        _login, username, password, role = line.split()
        person = Person.objects.get(username=username)
        assert (person.role, person.check_password(password)) == (role, True)
        assert len(password) >= 15


def test_every_change_of_stage_stands_in_the_table_and_was_allowed_to_its_maker(demo):
    for repair in Repair.objects.prefetch_related("events__by"):
        changes = [event for event in repair.events.all() if not event.hands]
        events = sorted(changes, key=lambda event: (event.at, str(event.id)))
        assert events[0].to_stage == Stage.BOOKED_IN
        assert (events[-1].to_stage, events[-1].at) == (repair.stage, repair.stage_since)
        for before, event in pairwise(events):
            change = stages.TABLE[before.to_stage, event.to_stage]
            assert event.from_stage == before.to_stage
            assert event.by.role in change.roles
            assert event.reason or not change.needs_reason
            assert before.at <= event.at <= timezone.now()


def test_nothing_became_ready_without_a_passed_safety_check(demo):
    finished = Repair.objects.filter(events__to_stage=Stage.READY).distinct()

    assert finished.count() > 10
    for repair in finished:
        assert repair.worksheets.filter(
            revision__template_id="safety-check", stage=Worksheet.Stage.PASSED
        ).exists()


def test_levels_equal_their_moves_and_some_parts_run_low(demo):
    found = board(now=timezone.now())

    assert check_levels() == []
    assert len(found["low_parts"]) >= 3
    assert PurchaseOrder.objects.filter(stage="draft").exists()


def test_whoever_fetched_a_unit_has_paid(demo):
    for repair in Repair.objects.filter(stage=Stage.HANDED_BACK):
        assert account(repair)["due_minor"] == 0


def test_every_code_on_a_tag_has_its_check_character(demo):
    for code in Unit.objects.values_list("code", flat=True):
        assert read_code(code).text == code


def test_stuck_repairs_say_why(demo):
    whys = " / ".join(row["why"] for row in board(now=timezone.now())["stuck"])

    assert "not approved" in whys
    assert "order 1 sent" in whys
    assert "on the bench" in whys


def test_anna_has_both_conversions_to_work_with_their_packs(demo):
    sheets = Worksheet.objects.filter(
        repair__assigned_to__username="anna", revision__template_id="mains-conversion"
    ).order_by("repair__use_at_volt")

    assert [(s.repair.set_for_volt, s.repair.use_at_volt) for s in sheets] == [
        (230, 120),
        (115, 230),
    ]
    assert all(sheet.pack for sheet in sheets)
    fuses = [sheet.pack for sheet in sheets]
    assert b"T160mAL250V" in bytes(fuses[0])  # common practice, no source: 80 mA becomes 160 mA
    assert b"T80mAL250V" in bytes(fuses[1])


@pytest.mark.parametrize(
    "slug",
    [
        "look-over", "dead-working", "reform-capacitors", "electrolytic-survey", "dented-chassis",
        "supply-rails", "valve-check", "controls-service", "channel-check", "soak-test",
    ],
)  # fmt: skip
def test_a_job_of_the_bench_was_worked_to_its_end(demo, slug):
    done = Worksheet.objects.filter(revision__template_id=slug).exclude(stage="open")

    assert done.exists()
    for worksheet in done:
        assert first_break_of(worksheet.id) is None
        assert worksheet.opened_at < worksheet.closed_at <= timezone.now()
        assert worksheet.entries.exclude(verdict="").exclude(meter=None).exists()


def test_the_demo_shows_a_hum_found_by_its_ripple_and_gone_as_left(demo):
    entries = Entry.objects.filter(worksheet__revision__template_id="supply-rails")

    found, left = (entries.get(step=f"{table}/r1/ripple") for table in ("found", "rails"))

    assert (found.verdict, left.verdict) == ("fail", "pass")
    assert found.value["as_typed"] == "310m"


def test_the_demo_shows_readings_that_fail_and_how_they_were_put_right(demo):
    entries = Entry.objects.filter(worksheet__revision__template_id="dented-chassis")

    failed = entries.get(verdict="fail")

    assert entries.get(replaces=failed).verdict == "pass"
