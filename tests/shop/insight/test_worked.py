"""Job templates of the demo are worked as people work them, only earlier."""

from datetime import timedelta

import pytest

from shop.insight.demo.worked import Left, work_through
from shop.jobs.errors import SkipNotAllowed
from shop.jobs.models import Entry
from shop.jobs.selectors import first_break_of
from shop.jobs.services import publish_revision
from shop.repairs.models import Photo
from tests.factories.core import NOW, ShopFactory
from tests.factories.jobs import MeterFactory, caution, look, on_the_bench, reading, template

pytestmark = pytest.mark.django_db


@pytest.fixture
def repair(db):
    ShopFactory()
    return on_the_bench()


def worked(repair, by, *steps, **more):
    publish_revision(body=template(*steps))
    given = {"at": NOW, "meters": [MeterFactory()], **more}
    return work_through(repair=repair, template="small", by=by, **given)


def kinds_of(worksheet):
    return list(Entry.objects.filter(worksheet=worksheet).values_list("step", "kind"))


def test_what_is_not_named_passes_and_the_chain_holds(repair, anna):
    sheet = worked(repair, anna, caution(), look(), reading(meter_kinds=["multimeter"]))

    assert sheet.stage == "passed"
    assert kinds_of(sheet) == [
        ("unplug", "acknowledge"), ("cord", "choice"), ("rail", "reading"),
    ]  # fmt: skip
    entry = Entry.objects.get(worksheet=sheet, step="rail")
    assert (entry.verdict, entry.meter.name) == ("pass", entry.meter_state["name"])
    assert first_break_of(sheet.id) is None


def test_a_named_reading_is_judged_and_may_be_taken_again(repair, anna):
    sheet = worked(repair, anna, caution(), reading(), answers={"rail": ["4.1", "5.02"]})

    entries = Entry.objects.filter(worksheet=sheet, step="rail").order_by("seq")
    assert [(e.value["as_typed"], e.verdict) for e in entries] == [
        ("4.1", "fail"),
        ("5.02", "pass"),
    ]
    assert sheet.stage == "passed"


def test_a_cell_that_is_read_again_corrects_the_first_reading(repair, anna):
    column = {"key": "volt", "title": "Volts", "quantity": "voltage_dc", "band": {"low": 4}}
    table = {"rows": [{"title": "+5 V"}], "columns": [column]}
    step = {
        "id": "rails", "kind": "table", "title": "Rails", "phase": "as_left", "table": table,
    }  # fmt: skip

    sheet = worked(repair, anna, caution(), step, answers={"rails/r1/volt": ["3.1", "5.0"]})

    first, second = Entry.objects.filter(worksheet=sheet, kind="reading").order_by("seq")
    assert (second.replaces, second.reason) == (first, "Put right, then read again.")
    assert sheet.stage == "passed"


def test_a_step_is_left_with_its_reason(repair, anna):
    sheet = worked(repair, anna, caution(), reading(), answers={"rail": Left("not built in")})

    entry = Entry.objects.get(worksheet=sheet, step="rail")
    assert (entry.kind, entry.value["reason"]) == ("skip", "not built in")


def test_a_wait_takes_its_time_and_a_picture_is_kept(repair, anna):
    wait = {"id": "wait", "kind": "timer", "title": "Wait", "seconds": 600}
    photo = {"id": "plate", "kind": "photo", "title": "Photo of the plate"}

    sheet = worked(repair, anna, caution(), wait, photo)

    assert sheet.closed_at - sheet.opened_at >= timedelta(minutes=10)
    sha256 = Entry.objects.get(worksheet=sheet, step="plate").value["sha256"]
    assert Photo.objects.get(sha256=sha256).size > 0


def test_another_person_signs_where_the_step_asks_for_one(repair, anna, max):
    sign = {
        "id": "second", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True,
    }  # fmt: skip

    sheet = worked(repair, anna, caution(), sign, others=[anna, max])

    assert Entry.objects.get(worksheet=sheet, kind="sign_off").made_by == max


def test_an_answer_that_no_step_wanted_is_an_error(repair, anna):
    with pytest.raises(RuntimeError, match="rial"):
        worked(repair, anna, caution(), reading(), answers={"rial": "5"})


def test_a_reading_that_blocks_and_never_passes_is_an_error(repair, anna):
    with pytest.raises(RuntimeError, match="cannot settle step rail"):
        worked(repair, anna, caution(), reading(), answers={"rail": "4.1"})


def test_the_rules_of_real_entries_hold(repair, anna):
    with pytest.raises(SkipNotAllowed):
        worked(repair, anna, caution(), look(safety=True), answers={"cord": Left("no time")})
