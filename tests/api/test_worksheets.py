"""The addresses of worksheets: who may, what comes back, and packs as bytes."""

import gzip
import hashlib

import pytest

from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.format.schemas import NAMES
from shop.jobs.models import Worksheet
from shop.jobs.services import apply_operations, publish_revision
from tests.factories.jobs import (
    Phone,
    caution,
    correcting,
    on_the_bench,
    reading,
    started,
    template,
)

pytestmark = pytest.mark.django_db
PASSWORD = "a long enough pass phrase"


def start(client, repair, **more):
    sent = {"id": str(new_id()), "repair": str(repair.id), "template": "small", **more}
    return client.post("/api/v1/worksheets/", sent, format="json")


def test_a_worksheet_is_started_once_and_found_on_its_repair(api, anna):
    publish_revision(body=template())
    repair, client, id = on_the_bench(), api(anna), str(new_id())

    first = start(client, repair, id=id)
    again = start(client, repair, id=id)

    assert (first.status_code, again.status_code) == (201, 200)
    assert first.json() == again.json()
    listed = client.get(f"/api/v1/worksheets/?repair={repair.id}").json()
    assert [row["id"] for row in listed] == [id]
    assert listed[0]["stage"] == "open"


def test_the_desk_starts_no_worksheet_and_a_stranger_sees_none(api, dora, stranger, anna):
    worksheet = started(template(), by=anna)

    assert start(api(dora), worksheet.repair).status_code == 403
    assert api(stranger).get(f"/api/v1/worksheets/{worksheet.id}/").status_code in (401, 403)
    assert api().get(f"/api/v1/worksheets/{worksheet.id}/pack/").status_code == 401


def test_a_gate_and_a_missing_fact_answer_409_with_the_reason(api, anna):
    gate = {"when": {"eq": ["sheet.supply_kind", "switch_mode"]}, "reason": "Not for these."}
    facts = [{"key": "idle", "title": "Idle power", "quantity": "power", "required": True}]
    publish_revision(body=template(gates=[gate], facts=facts))

    gated = start(api(anna), on_the_bench(supply_kind="switch_mode"))
    missing = start(api(anna), on_the_bench())
    wrong = start(api(anna), on_the_bench(), facts={"idle": "lots"})

    assert (gated.status_code, gated.json()["code"]) == (409, "gate")
    assert gated.json()["detail"] == "Not for these."
    assert (missing.status_code, missing.json()["code"]) == (409, "facts_missing")
    assert missing.json()["errors"][0]["field"] == "facts.idle"
    assert (wrong.status_code, wrong.json()["errors"][0]["field"]) == (400, "facts.idle")
    assert not Worksheet.objects.exists()


def test_a_pack_is_served_as_kept_and_not_sent_again_when_it_is_known(
    api, anna, django_assert_num_queries
):
    worksheet = started(template(), by=anna)
    client, address = api(anna), f"/api/v1/worksheets/{worksheet.id}/pack/"

    with django_assert_num_queries(1):
        answer = client.get(address)

    assert hashlib.sha256(answer.content).hexdigest() == worksheet.pack_sha256
    assert answer["ETag"] == f'"{worksheet.pack_sha256}"'
    assert answer["Cache-Control"].startswith("private")
    known = client.get(address, HTTP_IF_NONE_MATCH=answer["ETag"])
    assert (known.status_code, known.content) == (304, b"")
    assert client.get(f"/api/v1/worksheets/{new_id()}/pack/").status_code == 404


def test_a_pack_is_compressed_on_its_way_for_a_phone_that_can_read_that(api, anna):
    worksheet = started(template(), by=anna)

    address = f"/api/v1/worksheets/{worksheet.id}/pack/"
    answer = api(anna).get(address, HTTP_ACCEPT_ENCODING="gzip, br")

    assert (answer["Content-Encoding"], "Accept-Encoding" in answer["Vary"]) == ("gzip", True)
    assert gzip.decompress(answer.content) == bytes(worksheet.pack)


def test_my_packs_are_those_of_my_repairs_and_those_i_opened(api, anna, max):
    opened = started(template(), by=anna)
    repair = on_the_bench()
    repair.assigned_to = anna
    repair.save(update_fields=["assigned_to"])
    assigned = started(template(), by=max, repair=repair)
    started(template(), by=max)
    gone = started(template(), by=anna)
    gone.repair.stage = "handed_back"
    gone.repair.save(update_fields=["stage"])

    held = api(anna).get("/api/v1/my-packs/").json()["worksheets"]

    assert {row["id"] for row in held} == {str(opened.id), str(assigned.id)}
    assert held[0].keys() == {"id", "pack_sha256", "last_seq", "repair", "unit_code"}


def test_signing_asks_for_the_password_of_who_signs(api, anna, max):
    sign = {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True}
    worksheet = started(template(caution(), sign), by=anna)
    apply_operations(person=anna, device_id=None, operations=[Phone(anna, worksheet).acknowledge()])
    client, address = api(anna), f"/api/v1/worksheets/{worksheet.id}/sign-off/"
    sent = {"id": str(new_id()), "step": "sign", "password": PASSWORD}

    wrong = client.post(address, {**sent, "password": "guess"}, format="json")
    own = client.post(address, sent, format="json")
    other = client.post(address, {**sent, "username": "max"}, format="json")

    assert (wrong.status_code, wrong.json()["code"]) == (403, "wrong_password")
    assert (own.status_code, own.json()["code"]) == (409, "sign_off_needs_other_person")
    assert other.status_code == 200
    assert other.json()["made_by"] == str(max.id)
    detail = client.get(f"/api/v1/worksheets/{worksheet.id}/").json()
    assert (detail["stage"], [e["kind"] for e in detail["entries"]]) == (
        "passed",
        ["acknowledge", "sign_off"],
    )


def test_in_a_shop_of_one_who_did_the_work_signs_and_names_who_was_by(api, anna):
    sign = {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True}
    worksheet = started(template(caution(), sign), by=anna)
    apply_operations(person=anna, device_id=None, operations=[Phone(anna, worksheet).acknowledge()])
    client, address = api(anna), f"/api/v1/worksheets/{worksheet.id}/sign-off/"
    Person.objects.exclude(id=anna.id).update(is_active=False)
    sent = {"id": str(new_id()), "step": "sign", "password": PASSWORD}

    silent = client.post(address, sent, format="json")
    named = client.post(address, {**sent, "note": "The neighbour is by."}, format="json")

    assert (silent.status_code, silent.json()["errors"][0]["field"]) == (400, "note")
    assert named.status_code == 200
    assert named.json()["value"]["note"] == "The neighbour is by."


def test_what_is_corrected_after_the_signature_asks_for_another(api, anna, max):
    sign = {"id": "sign", "kind": "sign_off", "title": "Sign", "role": "tech", "other_person": True}
    worksheet = started(template(caution(), reading(), sign), by=anna)
    phone, address = Phone(anna, worksheet), f"/api/v1/worksheets/{worksheet.id}/sign-off/"
    first = phone.read("rail", "5")
    apply_operations(person=anna, device_id=None, operations=[phone.acknowledge(), first])

    def signed():
        sent = {"id": str(new_id()), "step": "sign", "password": PASSWORD}
        assert api(max).post(address, sent, format="json").status_code == 200
        return Worksheet.objects.get(id=worksheet.id).stage

    assert signed() == "passed"
    again = correcting(phone.read("rail", "5.1"), first)
    apply_operations(person=anna, device_id=None, operations=[again])
    assert Worksheet.objects.get(id=worksheet.id).stage == "open"
    assert signed() == "passed"


def test_a_worksheet_is_stopped_with_a_reason(api, anna):
    worksheet = started(template(), by=anna)
    address = f"/api/v1/worksheets/{worksheet.id}/stop/"

    assert api(anna).post(address, {"reason": ""}, format="json").status_code == 400
    answer = api(anna).post(address, {"reason": "customer withdrew"}, format="json")

    assert answer.json()["stage"] == "stopped"


def test_templates_are_listed_with_what_will_be_asked(api, dora, max):
    choices = [{"key": "on", "label": {"en": "on", "de": "drauf"}}, {"key": "off", "label": "off"}]
    idle = {"key": "idle", "title": "Idle", "quantity": "power", "from": "sheet.idle_watt"}
    facts = [{"key": "lid", "title": "Lid", "choices": choices}, idle]
    publish_revision(body=template(facts=facts))

    (row,) = api(dora).get("/api/v1/job-templates/").json()
    full = api(dora).get("/api/v1/job-templates/small/").json()

    assert (row["slug"], row["revision"], row["facts"][0]["required"]) == ("small", 1, False)
    assert row["facts"][0]["choices"][0] == {"key": "on", "label": "on"}
    assert [fact["from"] for fact in row["facts"]] == [None, "sheet.idle_watt"]
    assert full["body"]["steps"]


@pytest.mark.parametrize("name", NAMES)
def test_the_schemas_are_published_to_everybody(api, name):
    assert api().get(f"/api/v1/schemas/{name}/").json()["$schema"].startswith("https://json-schema")


def test_a_schema_that_is_not_published_is_not_there(api):
    assert api().get("/api/v1/schemas/passwords/").status_code == 404
