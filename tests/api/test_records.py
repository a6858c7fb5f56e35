"""A record as an auditor reads it: every entry, what each replaced, and whether the chain holds."""

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Entry
from shop.jobs.services import apply_operations
from tests.factories.jobs import (
    MeterFactory,
    Phone,
    caution,
    correcting,
    reading,
    started,
    template,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(anna):
    """A worksheet with a reading that was corrected, taken with a meter."""
    sheet = started(template(caution(), reading()), by=anna)
    phone, meter = Phone(anna, sheet), MeterFactory(name="Hand meter")
    first = phone.read("rail", "7", meter=str(meter.id))
    again = correcting(phone.read("rail", "5", meter=str(meter.id)), first, "read the wrong range")
    apply_operations(person=anna, device_id=None, operations=[phone.acknowledge(), first, again])
    return sheet


def test_the_record_shows_what_was_corrected_and_the_meter_as_it_was(api, max, sheet):
    found = api(max).get(f"/api/v1/records/{sheet.id}/").json()

    assert (found["holds"], found["last_seq"], found["broken_at"]) == (True, 3, None)
    _ack, first, again = found["entries"]
    assert again["replaces"] == first["id"]
    assert again["reason"] == "read the wrong range"
    assert first["value"]["judged"]["verdict"] == "fail"
    assert again["meter_state"]["name"] == "Hand meter"
    assert found["last_hash"] == again["hash"]


def test_a_changed_entry_is_found_at_its_place(api, max, sheet):
    Entry.objects.filter(record=sheet.id, seq=2).update(value_text="5")

    found = api(max).get(f"/api/v1/records/{sheet.id}/").json()

    assert (found["holds"], found["broken_at"]) == (False, 2)


def test_a_record_that_is_none_is_not_there(api, max):
    assert api(max).get(f"/api/v1/records/{new_id()}/").status_code == 404


def test_only_the_manager_is_told_whose_units_a_meter_read(api, anna, max, sheet):
    meter = Entry.objects.filter(record=sheet.id, meter__isnull=False).latest("seq").meter
    address = f"/api/v1/meters/{meter.id}/readings/?since=2020-01-01"

    told = {person.role: api(person).get(address).json() for person in (anna, max)}

    assert [told["tech"]["total"], told["manager"]["total"]] == [2, 2]
    assert {row["customer_name"] for row in told["tech"]["readings"]} == {""}
    assert {row["customer_name"] for row in told["manager"]["readings"]} == {
        sheet.repair.customer.name
    }


def test_what_is_no_number_is_no_accuracy_of_a_meter(api, max):
    row = {"quantity": "voltage_dc", "percent": "nan", "counts": 1, "resolution": 1}
    sent = {"id": str(new_id()), "name": "Meter", "kinds": ["multimeter"], "accuracy": [row]}

    answer = api(max).post("/api/v1/meters/", sent, format="json")
    asked = api(max).get(
        f"/api/v1/meters/{MeterFactory().id}/readings/?since=2026-01-01&off_percent=nan"
    )

    assert (answer.status_code, asked.status_code) == (400, 400)
