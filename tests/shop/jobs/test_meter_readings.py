"""When a meter turns out to be wrong: everything read with it, and what it would have been."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from shop.benches.services import forbid_overdue
from shop.core.selectors import day_begins
from shop.jobs.meter_readings import meter_history
from shop.jobs.models import Entry
from shop.jobs.services import apply_operations
from tests.factories.core import NOW, ShopFactory
from tests.factories.jobs import (
    MeterFactory,
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
DAY = NOW.date()
START = datetime.combine(DAY, time.min, UTC)


def sent(person, *operations):
    return apply_operations(person=person, device_id=None, operations=list(operations))


@pytest.fixture
def meter(db):
    return MeterFactory()


@pytest.fixture
def phone(anna, db):
    phone = Phone(anna, started(template(caution(), look(), reading()), by=anna))
    sent(anna, phone.acknowledge())
    return phone


def test_every_reading_with_the_meter_since_a_day_is_there_newest_first(anna, phone, meter):
    log = Phone(anna, repair=phone.repair)
    log.now = phone.now + timedelta(hours=1)
    sent(anna, phone.read("rail", "5.01", meter=str(meter.id)))
    sent(anna, log.read(None, "3", name="pin 8", quantity="voltage_dc", meter=str(meter.id)))
    sent(anna, log.read(None, "4", name="pin 9", quantity="voltage_dc"))

    found = meter_history(meter, START)

    assert [row["title"] for row in found["readings"]] == ["pin 8", "Rail"]
    assert (found["total"], found["repairs"], found["handed_back"]) == (2, 1, 0)
    rail = found["readings"][1]
    assert (rail["value_text"], rail["low"], rail["high"]) == ("5.01", "4.75", "5.25")
    assert (rail["verdict"], rail["would_be"]) == ("pass", None)


def test_readings_of_the_day_before_are_not_there(anna, phone, meter):
    sent(anna, phone.read("rail", "5.01", meter=str(meter.id)))

    assert meter_history(meter, START + timedelta(days=1))["total"] == 0


def test_what_was_corrected_is_marked_and_not_counted(anna, phone, meter):
    first = phone.read("rail", "7", meter=str(meter.id))
    again = correcting(phone.read("rail", "5", meter=str(meter.id)), first)
    sent(anna, first, again)

    found = meter_history(meter, START, off_percent=50)

    assert [row["is_replaced"] for row in found["readings"]] == [False, True]
    assert (found["repairs"], found["would_change"]) == (1, 1)


def test_a_meter_that_read_five_per_cent_too_high_would_have_failed_the_rail(anna, phone, meter):
    # By hand: 4.9 / 1.05 = 4.66667, below the lower limit of 4.75.
    sent(anna, phone.read("rail", "4.9", meter=str(meter.id)))

    (row,) = meter_history(meter, START, off_percent=5)["readings"]

    assert row["verdict"] == "pass"
    assert row["would_be"] == {"value_text": "4.66667", "verdict": "fail"}


def test_a_unit_that_has_left_is_counted(anna, phone, meter):
    sent(anna, phone.read("rail", "5", meter=str(meter.id)))
    type(phone.repair).objects.filter(id=phone.repair.id).update(stage="handed_back")

    assert meter_history(meter, START)["handed_back"] == 1


def test_the_number_of_queries_does_not_grow_with_the_readings(
    anna, phone, meter, django_assert_num_queries
):
    sent(anna, *[phone.read("rail", "5", meter=str(meter.id)) for _ in range(3)])
    other = Phone(anna, started(template(caution(), reading()), by=anna, repair=on_the_bench()))
    sent(anna, other.acknowledge(), other.read("rail", "5", meter=str(meter.id)))

    with django_assert_num_queries(3):
        found = meter_history(meter, START)

    assert found["total"] == 4


def test_an_overdue_meter_is_refused_where_the_shop_says_so(anna):
    forbid_overdue(quantities=["voltage_dc"])
    overdue = MeterFactory(calibration_due_on=DAY - timedelta(days=1))
    phone = Phone(anna, started(template(caution(), reading()), by=anna))

    _ok, refused = sent(anna, phone.acknowledge(), phone.read("rail", "5", meter=str(overdue.id)))

    assert (refused.outcome, refused.code) == ("refused", "meter_overdue")
    assert overdue.name in refused.detail
    assert not Entry.objects.filter(kind="reading").exists()


def test_a_time_before_the_worksheet_was_started_makes_no_overdue_meter_good(anna):
    forbid_overdue(quantities=["voltage_dc"])
    overdue = MeterFactory(calibration_due_on=DAY - timedelta(days=1))
    phone = Phone(anna, started(template(caution(), reading()), by=anna))
    phone.now = NOW - timedelta(days=30)

    _ok, refused = sent(anna, phone.acknowledge(), phone.read("rail", "5", meter=str(overdue.id)))

    assert refused.code == "meter_overdue"


def test_where_the_shop_only_warns_the_overdue_state_is_kept_with_the_reading(anna):
    forbid_overdue(quantities=["resistance"])
    overdue = MeterFactory(calibration_due_on=DAY - timedelta(days=1))
    phone = Phone(anna, started(template(caution(), reading()), by=anna))

    sent(anna, phone.acknowledge(), phone.read("rail", "5", meter=str(overdue.id)))

    entry = Entry.objects.get(kind="reading")
    assert entry.meter_state["state"] == "overdue"
    assert entry.meter_state["due_on"] == overdue.calibration_due_on.isoformat()


def test_a_rule_made_after_the_start_does_not_refuse_what_the_phone_was_allowed(anna):
    overdue = MeterFactory(calibration_due_on=DAY - timedelta(days=1))
    phone = Phone(anna, started(template(caution(), reading()), by=anna))
    forbid_overdue(quantities=["voltage_dc"])

    results = sent(anna, phone.acknowledge(), phone.read("rail", "5", meter=str(overdue.id)))

    assert [result.outcome for result in results] == ["applied", "applied"]


def test_the_day_on_which_a_meter_is_due_ends_where_the_shop_is(anna):
    zone = ZoneInfo("America/Los_Angeles")
    ShopFactory(time_zone=str(zone), overdue_forbidden=["voltage_dc"])
    due = MeterFactory(calibration_due_on=DAY)
    worksheet = started(template(caution(), reading()), by=anna)
    # By hand: eight in the evening there is four in the morning of the next day in UTC.
    evening = datetime.combine(DAY, time(20), zone)
    type(worksheet).objects.filter(id=worksheet.id).update(opened_at=evening)
    phone = Phone(anna, worksheet)
    phone.now = evening.astimezone(UTC)

    results = sent(anna, phone.acknowledge(), phone.read("rail", "5", meter=str(due.id)))

    assert [result.outcome for result in results] == ["applied", "applied"]
    assert Entry.objects.get(kind="reading").meter_state["state"] == "ok"
    assert meter_history(due, day_begins(DAY))["total"] == 1
    assert meter_history(due, day_begins(DAY + timedelta(days=1)))["total"] == 0
