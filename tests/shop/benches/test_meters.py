"""Meters are written down, calibrated, and refused where the shop says so."""

from datetime import date, timedelta

import pytest

from shop.benches.models import Calibration, Meter
from shop.benches.services import add_meter, change_meter, forbid_overdue, note_calibration
from shop.core.errors import BadField, Conflict, Stale
from shop.core.ids import new_id
from shop.core.selectors import the_shop
from tests.factories.jobs import MeterFactory

pytestmark = pytest.mark.django_db
TODAY = date(2026, 3, 2)
ROW = {"quantity": "voltage_dc", "percent": 0.5, "counts": 2, "resolution": 0.01}
FACTS = {"name": "Hand meter", "kinds": ["multimeter"], "serial": "N1", "accuracy": [ROW]}


def calibrated(meter, by, **more):
    said = {"done_on": TODAY, "due_on": date(2027, 3, 2), "found": "in_tolerance", **more}
    return note_calibration(id=more.pop("id", new_id()), meter=meter, by=by, today=TODAY, **said)


def test_a_new_meter_gets_a_code_and_a_repeat_is_the_same_meter(db):
    id = new_id()

    first, is_new = add_meter(id=id, facts=FACTS)
    again, is_new_again = add_meter(id=id, facts=FACTS)

    assert (is_new, is_new_again) == (True, False)
    assert first.code == again.code
    assert Meter.objects.count() == 1


def test_the_same_id_for_another_meter_is_refused():
    id = new_id()
    add_meter(id=id, facts=FACTS)

    with pytest.raises(Conflict):
        add_meter(id=id, facts={**FACTS, "name": "Another"})


@pytest.mark.parametrize(
    ("rows", "field"),
    [
        ([ROW, ROW], "accuracy[1].quantity"),
        ([{**ROW, "percent": 0, "counts": 0}], "accuracy[0].percent"),
    ],
)
def test_an_accuracy_that_cannot_be_is_refused_at_its_place(rows, field):
    with pytest.raises(BadField) as refused:
        add_meter(id=new_id(), facts={**FACTS, "accuracy": rows})

    assert refused.value.field == field
    assert not Meter.objects.exists()


def test_two_who_change_one_meter_do_not_overwrite_each_other():
    meter = MeterFactory()
    change_meter(meter=meter, version=1, facts={"name": "By the first"})

    with pytest.raises(Stale):
        change_meter(meter=meter, version=1, facts={"name": "By the second"})

    meter.refresh_from_db()
    assert (meter.name, meter.version) == ("By the first", 2)


def test_the_newest_calibration_says_when_a_meter_is_due(max):
    meter = MeterFactory(calibration_due_on=None)

    calibrated(meter, max)
    calibrated(meter, max, done_on=date(2025, 2, 1), due_on=date(2026, 2, 1))

    meter.refresh_from_db()
    assert (meter.calibrated_on, meter.calibration_due_on) == (TODAY, date(2027, 3, 2))
    assert meter.version == 3


def test_a_calibration_sent_twice_is_noted_once(max):
    meter, id = MeterFactory(), new_id()
    said = {"done_on": TODAY, "due_on": date(2027, 3, 2), "found": "adjusted"}

    for _ in range(2):
        note_calibration(id=id, meter=meter, by=max, today=TODAY, **said)

    assert Calibration.objects.count() == 1
    with pytest.raises(Conflict):
        note_calibration(
            id=id, meter=meter, by=max, today=TODAY, **{**said, "found": "in_tolerance"}
        )


@pytest.mark.parametrize(
    ("days", "field"),
    [
        ({"done_on": TODAY + timedelta(days=1), "due_on": date(2027, 1, 1)}, "done_on"),
        ({"done_on": TODAY, "due_on": TODAY}, "due_on"),
    ],
)
def test_days_that_cannot_be_are_refused(max, days, field):
    with pytest.raises(BadField) as refused:
        calibrated(MeterFactory(), max, **days)

    assert refused.value.field == field
    assert not Calibration.objects.exists()


def test_the_shop_says_for_which_quantities_an_overdue_meter_is_refused():
    kept = forbid_overdue(quantities=["resistance", "no such thing", "voltage_ac"])

    assert kept == ["voltage_ac", "resistance"]
    assert the_shop().overdue_forbidden == kept
