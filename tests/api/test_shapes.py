"""What is answered is what the schema says: field by field, all the way down."""

import pytest
from rest_framework import serializers

from api.v1.benches import BenchOut, MeterOut
from api.v1.customers import CustomerOut
from api.v1.repair_shapes import RepairOut, RepairRowOut
from api.v1.units import UnitOut
from shop.benches.models import Bench, Meter
from shop.core.ids import new_id
from tests.factories.booking import booking_json
from tests.factories.units import ModelSheetFactory

pytestmark = pytest.mark.django_db


def assert_shape(serializer, answer, at="answer"):
    """Every field of the shape is there and no other, and what is filled has the inner shape."""
    wanted = {name for name, field in serializer.fields.items() if field.required}
    assert wanted <= set(answer) <= set(serializer.fields), at
    for name, field in serializer.fields.items():
        value = answer.get(name)
        if value is None:
            assert name not in answer or field.allow_null, f"{at}.{name}"
        elif isinstance(field, serializers.ListSerializer):
            for row in value:
                assert_shape(field.child, row, f"{at}.{name}[]")
        elif isinstance(field, serializers.Serializer):
            assert_shape(field, value, f"{at}.{name}")
        elif isinstance(field, serializers.ChoiceField):
            assert value in field.choices, f"{at}.{name}"


@pytest.fixture
def repair(api, dora, max):
    sheet = ModelSheetFactory(hazards=["live_chassis"])
    sent = booking_json(
        unit={"model_sheet": str(sheet.id), "serial": "92-1"},
        set_for_volt=230,
        photos=[{"sha256": "a" * 64, "caption": "lid"}],
    )
    first = api(dora).post("/api/v1/repairs/", sent, format="json").json()
    for to in ("declined", "unclaimed", "disposed"):
        first = api(max).post(
            f"/api/v1/repairs/{first['id']}/stage/",
            {"id": str(new_id()), "to": to, "reason": "of no use"},
            format="json",
            headers={"If-Match": str(first["version"])},
        ).json()  # fmt: skip
    again = {**sent, "id": str(new_id()), "unit": {"id": first["unit"]["id"]}}
    return api(dora).post("/api/v1/repairs/", again, format="json").json()


def test_a_repair_in_full(api, max, repair):
    answer = api(max).get(f"/api/v1/repairs/{repair['id']}/").json()

    assert_shape(RepairOut(), answer)
    assert_shape(RepairOut(), repair)
    assert len(answer["history"]) == len(answer["photos"]) == 1
    assert answer["history"][0]["outcome"] == "disposed of"
    assert answer["unit"]["hazards"][0]["text"] == "live chassis"
    assert {row["to"] for row in answer["allowed_stages"]} == {"looking_over", "declined"}


def test_rows_units_and_customers(api, dora, repair):
    row = api(dora).get("/api/v1/repairs/").json()["results"][0]
    unit = api(dora).get(f"/api/v1/units/{repair['unit']['id']}/").json()
    customer = api(dora).get(f"/api/v1/customers/{repair['customer']['id']}/").json()

    assert_shape(RepairRowOut(), row)
    assert_shape(UnitOut(), unit)
    assert_shape(CustomerOut(), customer)


def test_benches_and_meters(api, anna):
    Bench.objects.create(name="A", volt=230, hz=50, lamps=[{"watt": 60, "volt": 230}])
    accuracy = {"quantity": "volt", "percent": 0.5, "counts": 2, "resolution": 0.1}
    Meter.objects.create(code="M0000001", name="M", kinds=["multimeter"], accuracy=[accuracy])

    (bench,) = api(anna).get("/api/v1/benches/").json()["results"]
    (meter,) = api(anna).get("/api/v1/meters/").json()["results"]

    assert_shape(BenchOut(), bench)
    assert_shape(MeterOut(), meter)
    assert (meter["state"], meter["due_on"]) == ("unknown", None)
