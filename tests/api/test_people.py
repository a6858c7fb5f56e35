"""People and their phones over HTTP."""

import pytest

from shop.core.models import Device
from tests.factories.core import DeviceFactory

pytestmark = pytest.mark.django_db


def test_only_who_works_here_is_listed(api, dora, anna, stranger):
    rows = api(dora).get("/api/v1/people/").json()["results"]

    assert rows == [
        {"id": str(anna.id), "name": "Anna", "role": "tech"},
        {"id": str(dora.id), "name": "Dora", "role": "desk"},
    ]


def test_the_manager_withdraws_a_phone_and_the_first_time_counts(api, max, anna):
    device = DeviceFactory(person=anna, name="Anna's phone")

    rows = api(max).get("/api/v1/devices/").json()["results"]
    first = api(max).post(f"/api/v1/devices/{device.id}/revoke/")
    again = api(max).post(f"/api/v1/devices/{device.id}/revoke/")

    assert [(row["name"], row["person_name"]) for row in rows] == [("Anna's phone", "Anna")]
    assert first.json()["revoked_at"] == again.json()["revoked_at"] is not None
    assert Device.objects.get().revoked_by == max


def test_nobody_but_the_manager_sees_or_withdraws_phones(api, anna, dora):
    device = DeviceFactory(person=anna)

    for person in (anna, dora):
        assert api(person).get("/api/v1/devices/").status_code == 403
        assert api(person).post(f"/api/v1/devices/{device.id}/revoke/").status_code == 403
    assert Device.objects.get().revoked_at is None


def test_a_withdrawn_phone_is_refused_at_its_next_request(client, anna, max, api):
    device = {"id": "018f0000-0000-7000-8000-000000000001", "name": "Phone"}
    sent = {"username": "anna", "password": "a long enough pass phrase", "device": device}

    signed_in = client.post("/api/v1/session/", sent, content_type="application/json")
    before = client.get("/api/v1/people/")
    api(max).post(f"/api/v1/devices/{device['id']}/revoke/")
    after = client.get("/api/v1/people/")

    assert (signed_in.status_code, before.status_code) == (200, 200)
    assert (after.status_code, after.json()["code"]) == (401, "device_revoked")


@pytest.mark.parametrize("phones", [1, 12])
def test_phones_take_the_same_queries_for_few_and_for_many(
    api, max, phones, django_assert_num_queries
):
    for _ in range(phones):
        DeviceFactory()
    client = api(max)

    with django_assert_num_queries(2):  # their PINs are the second
        rows = client.get("/api/v1/devices/").json()["results"]

    assert len(rows) == phones
