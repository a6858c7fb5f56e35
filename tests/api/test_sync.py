"""What a phone sends in one go, and what it gets back."""

import pytest

from shop.core.ids import new_id
from shop.jobs.models import Entry
from shop.jobs.services import apply_operations
from tests.factories.jobs import Phone, on_the_bench, started, template

pytestmark = pytest.mark.django_db


def post(client, operations=None, known=None, **more):
    operations = [] if operations is None else operations
    sent = {"format": 1, "device_id": None, "known": known or {}, "operations": operations}
    return client.post("/api/v1/sync/", {**sent, **more}, format="json")


def test_a_batch_is_answered_per_operation_with_what_others_recorded(api, anna, max):
    worksheet = started(template(), by=anna)
    mine, theirs = Phone(anna, worksheet), Phone(max, worksheet)
    apply_operations(person=max, device_id=None, operations=[theirs.acknowledge()])

    answer = post(
        api(anna), [mine.choose("cord", "sound"), mine.choose("cord", "lost")],
        {str(worksheet.id): 0},
    ).json()  # fmt: skip

    assert [r.get("code", r["outcome"]) for r in answer["results"]] == ["applied", "bad_entry"]
    newer = answer["newer"][str(worksheet.id)]
    assert [(e["seq"], e["made_by_name"]) for e in newer] == [(1, "Max"), (2, "Anna")]
    assert newer[0]["received_at"].endswith("Z")
    assert answer["worksheets"] == {str(worksheet.id): {"stage": "open", "last_seq": 2}}
    assert answer["server_time"].endswith("Z")


def test_records_that_were_written_to_are_told_although_they_were_not_asked_for(api, anna):
    worksheet = started(template(), by=anna)

    answer = post(api(anna), [Phone(anna, worksheet).acknowledge()]).json()

    assert answer["worksheets"][str(worksheet.id)]["last_seq"] == 1
    assert answer["newer"] == {}


def test_a_phone_may_ask_about_five_hundred_records_in_a_fixed_number_of_queries(
    api, anna, django_assert_num_queries
):
    worksheet = started(template(), by=anna)
    post(api(anna), [Phone(anna, worksheet).acknowledge()])
    known = {str(worksheet.id): 0} | {str(new_id()): 3 for _ in range(499)}

    # Newer entries, stages, heads.
    with django_assert_num_queries(3):
        answer = post(api(anna), known=known).json()

    assert [e["seq"] for e in answer["newer"][str(worksheet.id)]] == [1]


def test_the_bench_log_is_read_back(api, anna):
    repair = on_the_bench()
    post(api(anna), [Phone(anna, repair=repair).entry("finding", finding="cause", text="C7 dry")])

    log = api(anna).get(f"/api/v1/records/{repair.id}/log/").json()

    assert (log["last_seq"], log["entries"][0]["value"]["text"]) == (1, "C7 dry")


@pytest.mark.parametrize(
    ("change", "status", "code"),
    [
        ({"format": 2}, 400, "format_not_known"),
        ({"operations": {}}, 400, "bad_input"),
        ({"known": {"x": 0}}, 400, "bad_input"),
        ({"known": {str(new_id()): -1}}, 400, "bad_input"),
        ({"known": {str(new_id()): True}}, 400, "bad_input"),
        ({"known": [1]}, 400, "bad_input"),
        ({"device_id": "phone"}, 400, "bad_input"),
        ({"operations": [{}] * 201}, 400, "bad_input"),
        ({"padding": "x" * 1_000_001}, 413, "too_much"),
    ],
)
def test_what_is_no_batch_is_refused_as_a_whole(api, anna, change, status, code):
    answer = post(api(anna), **change)

    assert (answer.status_code, answer.json()["code"]) == (status, code)


@pytest.mark.parametrize("operation", [None, 1, "x", [], {}, {"id": 5, "body": []}])
def test_rubbish_among_the_operations_is_refused_and_spoils_nothing(api, anna, operation):
    worksheet = started(template(), by=anna)

    answer = post(api(anna), [operation, Phone(anna, worksheet).acknowledge()])

    results = answer.json()["results"]
    assert [r["outcome"] for r in results] == ["refused", "applied"]
    assert Entry.objects.count() == 1


def test_nobody_syncs_without_signing_in(api, stranger):
    assert post(api()).status_code == 401
    assert post(api(stranger)).status_code == 403
