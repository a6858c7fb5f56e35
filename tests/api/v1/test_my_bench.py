"""My bench over HTTP: taking, handing over, notes seen."""

import pytest

from shop.calc.codes import Kind
from shop.core.codes import draw_code
from shop.core.ids import new_id
from shop.jobs.models import Mention
from shop.repairs.models import Repair, StageEvent
from tests.factories.core import PersonFactory
from tests.factories.jobs import Phone, started, template
from tests.factories.units import CustomerFactory, RepairFactory

pytestmark = pytest.mark.django_db
MY_BENCH, REPAIRS = "/api/v1/my-bench/", "/api/v1/repairs/"


@pytest.fixture
def ben(db):
    return PersonFactory(username="ben", name="Ben", role="tech")


def sync(client, *operations):
    sent = {"format": 1, "device_id": None, "operations": list(operations)}
    return client.post("/api/v1/sync/", sent, format="json").json()


def hand(client, repair, to, version=1, **more):
    sent = {"id": str(new_id()), "to": to and str(to.id), "note": "", **more}
    wanted = {"If-Match": f'"{version}"'}
    return client.post(f"{REPAIRS}{repair.id}/hand-over/", sent, format="json", headers=wanted)


def take(client, repair, **more):
    sent = {"id": str(new_id()), **more}
    return client.post(f"{REPAIRS}{repair.id}/take/", sent, format="json")


def test_a_repair_goes_from_one_bench_to_the_other_with_its_worksheets(api, anna, ben):
    sheet = started(template(), by=anna)
    repair = sheet.repair
    Repair.objects.filter(id=repair.id).update(assigned_to=anna)

    handed = hand(api(anna), repair, ben, note="Hum is left.")

    assert handed.status_code == 200, handed.content
    assert handed.json()["events"][-1]["handed_to_name"] == "Ben"
    held = api(ben).get("/api/v1/my-packs/").json()["worksheets"]
    assert [row["id"] for row in held] == [str(sheet.id)]
    (row,) = api(ben).get(MY_BENCH).json()["waiting"]
    assert (row["kind"], row["by_name"], row["text"]) == ("handed", "Anna", "Hum is left.")

    taken = take(api(ben), repair)

    assert taken.json()["assigned_to"]["name"] == "Ben"
    assert [row["id"] for row in api(ben).get(MY_BENCH).json()["in_hand"]] == [str(repair.id)]
    assert api(anna).get(MY_BENCH).json()["in_hand"] == []


def test_what_the_old_phone_had_not_sent_still_arrives_after_the_hand_over(api, anna, ben):
    sheet = started(template(), by=anna)
    Repair.objects.filter(id=sheet.repair.id).update(assigned_to=anna)
    hers, late = Phone(anna, sheet), Phone(anna, repair=sheet.repair)
    unsent = [hers.acknowledge(), late.entry("finding", finding="cause", text="A dry joint.")]
    hand(api(anna), sheet.repair, ben)
    take(api(ben), sheet.repair)

    answer = sync(api(anna), *unsent)

    assert [result["outcome"] for result in answer["results"]] == ["applied", "applied"]
    seen = api(ben).get(f"/api/v1/worksheets/{sheet.id}/").json()["entries"]
    assert [(entry["step"], entry["made_by_name"]) for entry in seen] == [("unplug", "Anna")]


def test_who_was_too_late_is_told_who_has_it(api, anna, ben):
    repair = RepairFactory(stage="on_the_bench")
    take(api(anna), repair)

    answer = take(api(ben), repair)

    assert (answer.status_code, answer.json()["code"]) == (409, "in_others_hands")
    assert answer.json()["detail"].startswith("Anna has it in hand.")


def test_a_hand_over_says_which_state_it_was_based_on(api, anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)
    sent = {"id": str(new_id()), "to": str(ben.id)}

    missing = api(anna).post(f"{REPAIRS}{repair.id}/hand-over/", sent, format="json")
    stale = hand(api(anna), repair, ben, version=9)

    assert (missing.status_code, stale.status_code) == (428, 412)
    assert StageEvent.objects.count() == 0


def test_who_left_is_handed_nothing(api, anna, stranger):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)

    answer = hand(api(anna), repair, stranger)

    assert answer.status_code == 400
    assert [row["field"] for row in answer.json()["errors"]] == ["to"]


def test_a_note_is_seen_by_whom_it_names_and_by_nobody_else(api, anna, ben):
    repair = RepairFactory(stage="on_the_bench", assigned_to=anna)
    note = Phone(anna, repair=repair).entry("note", text="@Ben?", mentions=[str(ben.id)])
    sync(api(anna), note)
    ids = [str(Mention.objects.get().id)]

    seen = [
        api(person).post("/api/v1/mentions/seen/", {"ids": ids}, format="json").json()["seen"]
        for person in (anna, ben, ben)
    ]

    assert seen == [0, 1, 0]
    assert api(ben).get(MY_BENCH).json()["waiting"] == []


def test_nothing_a_tech_reads_of_a_repair_says_whose_it_is(api, anna):
    owner = CustomerFactory(name="Ottilie Otter", phone="0151 777", email="otter@mail.example")
    repair = RepairFactory(
        stage="on_the_bench",
        assigned_to=anna,
        customer=owner,
        unit__owner=owner,
        unit__code=draw_code(Kind.UNIT),
    )
    sheet = started(template(), by=anna, repair=repair)
    addresses = (
        MY_BENCH, REPAIRS, f"{REPAIRS}{repair.id}/", "/api/v1/my-packs/",
        f"/api/v1/worksheets/{sheet.id}/", f"/api/v1/worksheets/{sheet.id}/pack/",
        f"/api/v1/units/{repair.unit_id}/", f"/api/v1/codes/{repair.unit.code}/",
        f"/api/v1/records/{repair.id}/log/", "/api/v1/find/?q=glimmer",
    )  # fmt: skip

    answers = {address: api(anna).get(address) for address in addresses}

    assert {answer.status_code for answer in answers.values()} == {200}
    for address, answer in answers.items():
        for personal in (b"Ottilie", b"0151", b"otter@"):
            assert personal not in answer.content, address
