"""Repairs over HTTP, from the counter to hand-back."""

import pytest

from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.repairs.models import Repair
from tests.factories.booking import booking_json

pytestmark = pytest.mark.django_db
REPAIRS = "/api/v1/repairs/"


def go(client, repair, to, reason=""):
    """Change the stage as the screen does, from the version it read."""
    body = {"id": str(new_id()), "to": to, "reason": reason}
    address = f"{REPAIRS}{repair['id']}/stage/"
    return client.post(address, body, format="json", headers={"If-Match": f'"{repair["version"]}"'})


def test_a_unit_goes_from_the_counter_to_its_owner(api, dora, anna, vouched):
    desk, bench = api(dora), api(anna)

    booked = desk.post(REPAIRS, booking_json(), format="json")
    repair = booked.json()
    rows = bench.get(REPAIRS, {"open": "1"}).json()["results"]
    for to in ("looking_over", "on_the_bench", "on_test", "ready"):
        answer = go(bench, repair, to)
        assert answer.status_code == 200, answer.json()
        repair = answer.json()
    pieces = [piece["code"] for piece in repair["unit"]["pieces"]]
    back = desk.post(
        f"{REPAIRS}{repair['id']}/hand-back/",
        {"id": str(new_id()), "pieces": pieces},
        format="json",
        headers={"If-Match": booked["ETag"].replace("1", str(repair["version"]))},
    )

    assert booked.status_code == 201
    assert booked["ETag"] == '"1"'
    assert [row["id"] for row in rows] == [repair["id"]]
    assert back.status_code == 200, back.json()
    assert back.json()["stage"] == "handed_back"
    assert [event["to"] for event in back.json()["events"]] == [
        "booked_in",
        "looking_over",
        "on_the_bench",
        "on_test",
        "ready",
        "handed_back",
    ]
    assert Repair.objects.get().closed_at is not None
    assert sorted(OutboxEvent.objects.values_list("kind", flat=True)) == [
        "documents.issue",
        "documents.issue",
        "documents.issue_test_report",
        "notices.tell_customer",
        "notices.tell_customer",
    ]
