"""What follows a passed worksheet, who may sign, and what stages require of the jobs."""

import pytest

from shop.core import outbox
from shop.core.errors import Conflict
from shop.core.ids import new_id
from shop.jobs.errors import (
    SignOffNeedsOtherPerson,
    SignOffNeedsRole,
    StepLocked,
    UnknownStep,
)
from shop.jobs.models import Entry, Worksheet
from shop.jobs.requirements import safety_check_passed, worksheets_passed
from shop.jobs.selectors import first_break_of
from shop.jobs.services import apply_operations, sign_off, stop_worksheet
from tests.factories.core import PersonFactory
from tests.factories.jobs import (
    Phone,
    caution,
    correcting,
    look,
    on_the_bench,
    reading,
    started,
    template,
)

pytestmark = pytest.mark.django_db

CHECK = template(caution(), look(), slug="check", proves="safety_check")
WORK = template(caution(), reading(), slug="work")


def work_off(worksheet, person, choice="sound"):
    """Work the small templates of this module to their end."""
    phone = Phone(person, worksheet)
    last = phone.choose("cord", choice)
    if worksheet.revision.template_id == "work":
        last = phone.read("rail", "5")
    results = apply_operations(
        person=person, device_id=None, operations=[phone.acknowledge(), last]
    )
    assert [r.outcome for r in results] == ["applied", "applied"]
    return phone, last


@pytest.fixture
def follow(monkeypatch):
    """Do what the outbox holds for the jobs, once."""

    def sweep():
        for event in outbox.OutboxEvent.objects.filter(
            kind="jobs.worksheet_passed", done_at=None
        ).order_by("created_at", "id"):
            outbox.attempt(event)
            event.refresh_from_db()
            assert event.done_at, event.last_error

    return sweep


def test_the_repair_becomes_ready_when_work_and_safety_check_have_passed(anna, follow):
    repair = on_the_bench()
    work_off(started(WORK, by=anna, repair=repair), anna)
    follow()
    repair.refresh_from_db()
    assert repair.stage == "on_the_bench"

    work_off(started(CHECK, by=anna, repair=repair), anna)
    follow()

    repair.refresh_from_db()
    assert repair.stage == "ready"
    assert list(repair.events.order_by("at").values_list("to_stage", flat=True)) == [
        "on_test",
        "ready",
    ]


def test_a_failed_safety_check_does_not_make_it_ready(anna, follow):
    repair = on_the_bench()

    work_off(started(CHECK, by=anna, repair=repair), anna, choice="damaged")
    follow()

    repair.refresh_from_db()
    assert repair.stage == "on_the_bench"
    assert safety_check_passed(repair)


def test_work_after_the_safety_check_asks_for_a_new_one(anna):
    repair = on_the_bench()
    check = started(CHECK, by=anna, repair=repair)
    work = started(WORK, by=anna, repair=repair)
    phone, last = work_off(check, anna)
    assert safety_check_passed(repair) is None

    work_off(work, anna)

    assert "check it again" in safety_check_passed(repair)
    again = correcting(phone.choose("cord", "sound"), last, "looked once more after the work")
    apply_operations(person=anna, device_id=None, operations=[again])
    assert safety_check_passed(repair) is None


def test_a_newer_safety_check_that_failed_is_not_forgotten_by_stopping_it(anna):
    repair = on_the_bench()
    work_off(started(CHECK, by=anna, repair=repair), anna)
    again = started(CHECK, by=anna, repair=repair)
    work_off(again, anna, choice="damaged")

    stop_worksheet(worksheet=again, reason="will be repeated", by=anna)

    assert "check it again" in safety_check_passed(repair)


def test_words_and_pictures_after_the_safety_check_change_nothing(anna):
    repair = on_the_bench()
    work_off(started(CHECK, by=anna, repair=repair), anna)

    note = Phone(anna, repair=repair).entry("note", text="cover cleaned")
    apply_operations(person=anna, device_id=None, operations=[note])

    assert safety_check_passed(repair) is None


def test_an_open_worksheet_is_named_and_a_stopped_one_does_not_count(anna):
    repair = on_the_bench()
    worksheet = started(WORK, by=anna, repair=repair)
    assert "work" in worksheets_passed(repair)

    stop_worksheet(worksheet=worksheet, reason="not needed", by=anna)

    assert worksheets_passed(repair) is None


def test_idle_power_measured_for_good_goes_to_the_model_sheet_with_its_source(anna, follow):
    step = reading("idle", quantity="power", band={"low": 1, "high": 60}, writes="sheet.idle_watt")
    worksheet = started(template(step), by=anna)
    operation = Phone(anna, worksheet).read("idle", "18", unit="W")

    apply_operations(person=anna, device_id=None, operations=[operation])
    follow()

    sheet = worksheet.repair.unit.model_sheet
    sheet.refresh_from_db()
    assert sheet.idle_watt == 18
    assert worksheet.repair.unit.code in sheet.idle_watt_source


SIGN = {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True}


def test_another_person_signs_and_the_worksheet_passes(anna, max):
    worksheet = started(template(caution(), SIGN), by=anna)
    apply_operations(person=anna, device_id=None, operations=[Phone(anna, worksheet).acknowledge()])
    id = new_id()
    with pytest.raises(SignOffNeedsOtherPerson):
        sign_off(id=id, worksheet=worksheet, step="sign", by=anna)

    first = sign_off(id=id, worksheet=worksheet, step="sign", by=max)
    again = sign_off(id=id, worksheet=worksheet, step="sign", by=max)

    assert first.seq == again.seq == 2
    assert Worksheet.objects.get().stage == "passed"
    assert first_break_of(worksheet.id) is None
    with pytest.raises(Conflict):
        sign_off(id=id, worksheet=worksheet, step="sign", by=PersonFactory(role="tech"))


def test_a_sign_off_needs_its_role_its_step_and_its_turn(anna, dora, max):
    worksheet = started(template(caution(), {**SIGN, "role": "manager"}), by=anna)
    attempts = [(max, "sign", StepLocked), (max, "unplug", UnknownStep), (max, "x", UnknownStep)]
    for person, step, refusal in attempts:
        with pytest.raises(refusal):
            sign_off(id=new_id(), worksheet=worksheet, step=step, by=person)
    apply_operations(person=anna, device_id=None, operations=[Phone(anna, worksheet).acknowledge()])
    for person in (anna, dora):
        with pytest.raises(SignOffNeedsRole):
            sign_off(id=new_id(), worksheet=worksheet, step="sign", by=person)

    assert Entry.objects.count() == 1


def test_a_missing_signature_waits_while_other_steps_go_on_and_cannot_be_skipped(anna):
    worksheet = started(template(caution(), SIGN, look()), by=anna)
    phone = Phone(anna, worksheet)
    operations = [phone.acknowledge(), phone.choose("cord", "sound"), phone.skip("sign")]

    results = apply_operations(person=anna, device_id=None, operations=operations)

    assert [r.code or r.outcome for r in results] == ["applied", "applied", "skip_not_allowed"]
    assert Worksheet.objects.get().stage == "open"


def test_an_id_that_another_record_holds_signs_nothing(anna):
    sign = {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech"}
    first, other = (started(template(sign, slug=slug), by=anna) for slug in ("one", "other"))
    signed = sign_off(id=new_id(), worksheet=first, step="sign", by=anna)

    with pytest.raises(Conflict):
        sign_off(id=signed.id, worksheet=other, step="sign", by=anna)


def test_a_setting_that_was_skipped_is_not_noted_on_the_unit(anna, follow):
    sets = look("sets", writes="unit.set_for")
    work = started(template(look(), sets), by=anna)
    work.repair.unit.set_for_volt = 117
    work.repair.unit.save(update_fields=["set_for_volt"])
    phone = Phone(anna, work)

    operations = [phone.choose("cord", "sound"), phone.skip("sets")]
    apply_operations(person=anna, device_id=None, operations=operations)
    follow()

    work.refresh_from_db()
    work.repair.unit.refresh_from_db()
    assert work.stage == "passed"
    assert work.repair.unit.set_for_volt == 117
