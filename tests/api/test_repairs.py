"""Repairs over HTTP, from the counter to hand-back."""

from datetime import timedelta

import pytest

from shop.core.ids import new_id
from shop.core.models import OutboxEvent
from shop.repairs.models import Repair
from shop.units.services import add_piece
from tests.factories.booking import booking_json
from tests.factories.core import NOW, ShopFactory
from tests.factories.units import CustomerFactory, RepairFactory, UnitFactory

pytestmark = pytest.mark.django_db
REPAIRS = "/api/v1/repairs/"


def go(client, repair, to, reason=""):
    """Change the stage as the screen does, from the version it read."""
    body = {"id": str(new_id()), "to": to, "reason": reason}
    return post(client, repair, "stage", body)


def post(client, repair, action, body, version=None):
    wanted = {"If-Match": f'"{version or repair["version"]}"'}
    return client.post(f"{REPAIRS}{repair['id']}/{action}/", body, format="json", headers=wanted)


def fields(answer):
    assert answer.status_code == 400, answer.content
    assert answer["Content-Type"] == "application/problem+json"
    return [row["field"] for row in answer.json()["errors"]]


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
    back = post(desk, repair, "hand-back", {"id": str(new_id()), "pieces": pieces})

    assert booked.status_code == 201
    assert booked["ETag"] == '"1"'
    assert [row["id"] for row in rows] == [repair["id"]]
    assert back.status_code == 200, back.json()
    assert back["ETag"] == '"6"'
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
        "documents.issue",  # receipt, tag, and the tag of the ready unit
        "documents.issue",
        "documents.issue",
        "documents.issue_test_report",
        "notices.tell_customer",
        "notices.tell_customer",
    ]


# Booking in


def test_the_answer_to_a_booking_has_all_the_receipt_needs(api, dora):
    ShopFactory(bench_volt=230, bench_hz=50)

    repair = api(dora).post(REPAIRS, booking_json(), format="json").json()

    assert repair["number"] == "1"
    assert repair["stage_words"] == "booked in today, waiting for a tech"
    assert repair["status_link"]["url"].startswith("https://shop.example/s/")
    assert repair["set_for"] is None
    assert repair["use_at"] == {"volt": 230, "hz": 50, "country": "DE"}
    assert repair["bench_supply"] == {"volt": 230, "hz": 50}
    assert repair["customer"]["phone"] == "0151 0000 123"
    assert repair["unit"]["do_not_power"] is True
    assert [piece["name"] for piece in repair["unit"]["pieces"]] == ["mains cord"]
    assert repair["booked_in_at"].endswith("Z")
    assert (repair["labour_minutes"], repair["elapsed_days"], repair["working_days"]) == (0, 0, 0)


def test_without_a_public_address_the_answer_says_why_there_is_no_link(api, dora, settings):
    settings.PUBLIC_URL = ""

    repair = api(dora).post(REPAIRS, booking_json(), format="json").json()
    link = post(api(dora), repair, "status-link", {})

    assert "PUBLIC_URL" in repair["status_link"]["missing"]
    assert link.status_code == 409
    assert link.json()["code"] == "public_url_missing"
    assert "PUBLIC_URL" in link.json()["detail"]


def test_a_repeat_answers_200_with_the_first_result_and_other_content_409(api, dora):
    sent = booking_json()
    first = api(dora).post(REPAIRS, sent, format="json")
    again = api(dora).post(REPAIRS, sent, format="json")
    other = api(dora).post(REPAIRS, {**sent, "complaint": "Other."}, format="json")

    assert (first.status_code, again.status_code, other.status_code) == (201, 200, 409)
    assert first.json()["number"] == again.json()["number"]
    assert other.json()["code"] == "other_content"
    assert Repair.objects.count() == 1


def test_a_unit_that_is_here_is_refused_with_its_repair(api, dora):
    here = RepairFactory(number=41)

    answer = api(dora).post(REPAIRS, booking_json(unit={"id": str(here.unit_id)}), format="json")

    assert answer.status_code == 409
    assert answer.json()["code"] == "already_here"
    assert (answer.json()["repair"], answer.json()["number"]) == (str(here.id), 41)


ALLOWED = booking_json()["allowed"]
BAD = [
    ("id", {"id": "7"}),
    ("complaint", {"complaint": ""}),
    ("complaint", {"complaint": None}),
    ("customer", {"customer": None}),
    ("customer.id", {"customer": {"id": "nobody"}}),
    ("customer.id", {"customer": {"id": str(new_id())}}),
    ("customer.name", {"customer": {"phone": "1"}}),
    ("customer.email", {"customer": {"name": "R", "email": "nowhere"}}),
    ("customer.phone", {"customer": {"name": "R", "phone": "1" * 41}}),
    ("customer.name", {"customer": {"name": "R\0"}}),
    ("unit.id", {"unit": {"id": str(new_id())}}),
    ("unit.make", {"unit": {"model": "G"}}),
    ("set_for_volt", {"set_for_volt": 0}),
    ("set_for_volt", {"set_for_volt": "much"}),
    ("use_at_country", {"use_at_country": "Germany"}),
    ("use_at_volt", {"use_at_volt": 120}),
    ("use_at_hz", {"use_at_hz": 60}),
    ("pieces[1].name", {"pieces": [{"name": "cord"}, {"name": ""}]}),
    ("allowed.spending_limit_minor", {"allowed": {**ALLOWED, "spending_limit_minor": -1}}),
    ("allowed.spending_limit_minor", {"allowed": {**ALLOWED, "spending_limit_minor": 2**31}}),
    ("allowed.sounds", {"allowed": {**ALLOWED, "sounds": "loud"}}),
    ("photos[0].sha256", {"photos": [{"sha256": "abc"}]}),
    ("signature.svg", {"signature": {"svg": "<script>", "strokes": [[1, 2]]}}),
    ("signature.strokes", {"signature": {"svg": "<svg></svg>", "strokes": "ink"}}),
    ("due_on", {"due_on": "tomorrow"}),
]


@pytest.mark.parametrize(
    ("field", "changes"), BAD, ids=[f"{f}-{i}" for i, (f, _) in enumerate(BAD)]
)
def test_bad_input_is_named_at_its_field_and_nothing_is_kept(api, dora, field, changes):
    answer = api(dora).post(REPAIRS, booking_json(**changes), format="json")

    assert fields(answer) == [field]
    assert answer.json()["code"] == "bad_input"
    assert not Repair.objects.exists()
    assert not OutboxEvent.objects.exists()


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b'"text"', b"null", b'{"id": NaN}'])
def test_what_is_no_booking_at_all_is_a_400(api, dora, body):
    answer = api(dora).post(REPAIRS, body, content_type="application/json")

    assert answer.status_code == 400
    assert answer["Content-Type"] == "application/problem+json"


# Roles


def test_a_tech_books_nothing_in_and_hands_nothing_back(api, anna):
    repair = RepairFactory(stage="ready")

    booked = api(anna).post(REPAIRS, booking_json(), format="json")
    back = api(anna).post(f"{REPAIRS}{repair.id}/hand-back/", {}, format="json")

    assert booked.status_code == back.status_code == 403
    assert booked.json()["code"] == "not_your_role"


def test_a_tech_sees_the_repair_but_not_whose_it_is(api, anna, dora, max):
    owner = CustomerFactory(name="Ottilie Otter", phone="0151 777", email="otter@mail.example")
    repair = RepairFactory(customer=owner, unit__owner=owner)
    address = f"{REPAIRS}{repair.id}/"

    seen = {person.role: api(person).get(address) for person in (anna, dora, max)}

    assert seen["tech"].json()["customer"] is None
    assert seen["tech"].json()["customer_name"] == ""
    for personal in (b"Ottilie", b"0151 777", b"otter@"):
        assert personal not in seen["tech"].content
    assert seen["desk"].json()["customer_name"] == "Ottilie Otter"
    assert seen["desk"].json()["customer"]["phone"] == "0151 777"
    assert seen["manager"].json()["customer"]["email"] == repair.customer.email


def test_a_role_gets_a_sentence_and_not_a_stack(api, dora):
    repair = RepairFactory(stage="on_the_bench")

    answer = go(api(dora), {"id": repair.id, "version": 1}, "on_test")

    assert answer.status_code == 403
    assert answer.json()["code"] == "not_your_role"
    assert "tech" in answer.json()["detail"]


# Stages and single values


def test_a_stage_change_says_from_which_state(api, anna):
    repair = RepairFactory(stage="on_the_bench", version=3)
    body = {"id": str(new_id()), "to": "on_test"}
    address = f"{REPAIRS}{repair.id}/stage/"

    missing = api(anna).post(address, body, format="json")
    stale = api(anna).post(address, body, format="json", headers={"If-Match": '"2"'})
    strange = api(anna).post(address, body, format="json", headers={"If-Match": "latest"})
    weak = api(anna).post(address, body, format="json", headers={"If-Match": '"3"'})

    assert [missing.status_code, stale.status_code, strange.status_code] == [428, 412, 412]
    assert (missing.json()["code"], stale.json()["code"]) == ("if_match_missing", "stale")
    assert weak.status_code == 200
    assert weak["ETag"] == '"4"'


def test_a_stage_change_sent_twice_answers_twice_and_happens_once(api, anna):
    repair = RepairFactory(stage="on_the_bench")
    sent = ({"id": repair.id}, "stage", {"id": str(new_id()), "to": "on_test", "reason": ""}, 1)

    answers = [post(api(anna), *sent) for _ in range(2)]

    assert [answer.status_code for answer in answers] == [200, 200]
    assert len(answers[1].json()["events"]) == 1


@pytest.mark.parametrize(
    ("stage", "to", "code", "status"),
    [
        ("booked_in", "ready", "stage_not_allowed", 409),
        ("on_test", "ready", "safety_check_missing", 409),
        ("on_the_bench", "awaiting_other", "bad_input", 400),
    ],
)
def test_a_refused_change_says_why(api, anna, stage, to, code, status):
    repair = RepairFactory(stage=stage)

    answer = go(api(anna), {"id": repair.id, "version": 1}, to)

    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert answer.json()["detail"]
    assert Repair.objects.get().stage == stage


@pytest.mark.parametrize(
    ("field", "body"),
    [("to", {"to": "lost"}), ("id", {"id": "x"}), ("reason", {"reason": "r" * 301})],
)
def test_a_stage_change_names_its_bad_field(api, anna, field, body):
    repair = RepairFactory(stage="on_the_bench")
    sent = {"id": str(new_id()), "to": "on_test", **body}

    assert fields(post(api(anna), {"id": repair.id, "version": 1}, "stage", sent)) == [field]


def test_day_and_tech_are_patched_from_a_known_state(api, dora, anna):
    repair = RepairFactory()
    address = f"{REPAIRS}{repair.id}/"
    sent = {"due_on": "2026-03-09", "assigned_to": str(anna.id)}

    missing = api(dora).patch(address, sent, format="json")
    done = api(dora).patch(address, sent, format="json", headers={"If-Match": '"1"'})
    stale = api(dora).patch(address, sent, format="json", headers={"If-Match": '"1"'})

    assert [missing.status_code, done.status_code, stale.status_code] == [428, 200, 412]
    assert done.json()["due_on"] == "2026-03-09"
    assert done.json()["assigned_to"] == {"id": str(anna.id), "name": "Anna"}


@pytest.mark.parametrize("who", ["anna", "dora", "max"])
def test_the_bench_and_the_desk_correct_what_it_is_set_for(api, request, who):
    person = request.getfixturevalue(who)
    repair = RepairFactory(set_for_volt=230, set_for_hz=50)
    address, sent = f"{REPAIRS}{repair.id}/", {"set_for_volt": 120, "set_for_hz": 60}

    missing = api(person).patch(address, sent, format="json")
    done = api(person).patch(address, sent, format="json", headers={"If-Match": '"1"'})
    stale = api(person).patch(address, sent, format="json", headers={"If-Match": '"1"'})

    assert [missing.status_code, done.status_code, stale.status_code] == [428, 200, 412]
    assert done.json()["set_for"] == {"volt": 120, "hz": 60}
    assert done.json()["unit"]["set_for_volt"] == 120
    last = done.json()["events"][-1]
    assert (last["from"], last["to"], last["by_name"]) == ("booked_in", "booked_in", person.name)
    assert "120 V, 60 Hz" in last["reason"]


@pytest.mark.parametrize("sent", [{"set_for_volt": 0}, {"set_for_volt": None}, {"set_for_hz": 401}])
def test_a_supply_that_cannot_be_is_not_taken_for_set_for(api, anna, sent):
    repair = RepairFactory(set_for_volt=230, set_for_hz=50)

    answer = api(anna).patch(
        f"{REPAIRS}{repair.id}/", sent, format="json", headers={"If-Match": '"1"'}
    )

    assert fields(answer) == list(sent)


def test_nobody_who_left_can_be_named_as_tech(api, dora, stranger):
    repair = RepairFactory()

    answer = api(dora).patch(
        f"{REPAIRS}{repair.id}/",
        {"assigned_to": str(stranger.id)},
        format="json",
        headers={"If-Match": '"1"'},
    )

    assert fields(answer) == ["assigned_to"]


def test_handing_back_names_the_pieces_that_are_missing(api, dora, vouched):
    repair = RepairFactory(stage="ready")
    cord, pedal = (add_piece(unit=repair.unit, name=name) for name in ("cord", "pedal"))
    sent = {"id": str(new_id()), "pieces": [cord.code]}

    refused = post(api(dora), {"id": repair.id, "version": 1}, "hand-back", sent)
    done = post(
        api(dora),
        {"id": repair.id, "version": 1},
        "hand-back",
        {**sent, "missing_reason": "customer has it"},
    )

    assert refused.status_code == 409
    assert refused.json()["code"] == "pieces_missing"
    assert refused.json()["missing"] == [pedal.code]
    assert done.status_code == 200


def test_an_unrepaired_unit_is_closed_up_by_a_tech_and_handed_back_by_the_desk(
    api, anna, dora, vouched
):
    repair = RepairFactory(stage="declined")
    known = {"id": repair.id, "version": 1}

    early = post(api(dora), known, "hand-back", {"id": str(new_id()), "pieces": []})
    closed = post(api(anna), known, "closed-up", {})
    done = post(api(dora), closed.json(), "hand-back", {"id": str(new_id()), "pieces": []})

    assert (early.status_code, early.json()["code"]) == (409, "not_closed_up")
    assert closed.json()["closed_up_at"] is not None
    assert done.json()["stage"] == "handed_back"


def test_labour_is_corrected_at_the_bench(api, anna, dora):
    repair = RepairFactory()
    known = {"id": repair.id, "version": 1}

    desk = post(api(dora), known, "labour", {"minutes": 20})
    bench = post(api(anna), known, "labour", {"minutes": 20})
    bad = post(api(anna), {"id": repair.id, "version": 2}, "labour", {"minutes": -5})

    assert desk.status_code == 403
    assert bench.json()["labour_minutes"] == 20
    assert fields(bad) == ["minutes"]


# Lists


def test_lists_are_filtered_by_stage_mine_open_and_scrap(api, anna):
    mine = RepairFactory(stage="on_the_bench", assigned_to=anna, number=100)
    ready = RepairFactory(stage="ready", number=200, unit__model="Glimmer")
    closed = RepairFactory(stage="handed_back", number=300)

    def numbers(**asked):
        rows = api(anna).get(REPAIRS, asked).json()["results"]
        return sorted(row["number"] for row in rows)

    assert numbers() == ["100", "200", "300"]
    assert numbers(open="1") == ["100", "200"]
    assert numbers(mine="1") == ["100"]
    assert numbers(stage="ready") == ["200"]
    assert numbers(stage=["ready", "handed_back"]) == ["200", "300"]
    assert numbers(q="GLIMMER") == ["200"]
    assert numbers(q="300", open="1") == []
    assert {mine.number, ready.number, closed.number} == {100, 200, 300}


@pytest.mark.parametrize(
    ("asked", "field"), [({"stage": "lost"}, "stage"), ({"q": "x" * 201}, "q"), ({"q": "\0"}, "q")]
)
def test_a_filter_that_cannot_be_is_named(api, anna, asked, field):
    assert fields(api(anna).get(REPAIRS, asked)) == [field]


@pytest.mark.parametrize("repairs", [2, 40])
def test_a_list_takes_the_same_queries_for_few_and_for_many(
    api, anna, repairs, django_assert_num_queries
):
    for _ in range(repairs):
        RepairFactory(assigned_to=anna)
    client = api(anna)

    with django_assert_num_queries(2):  # a page of rows, and the shop's time zone
        rows = client.get(REPAIRS, {"open": "1"}).json()["results"]

    assert len(rows) == repairs


@pytest.mark.parametrize("many", [1, 8])
def test_a_repair_in_full_takes_the_same_queries_for_few_and_for_many(
    api, dora, many, django_assert_max_num_queries
):
    unit = UnitFactory()
    for _ in range(many):
        RepairFactory(unit=unit, stage="handed_back")
        add_piece(unit=unit, name="cord")
    repair = RepairFactory(unit=unit, stage="ready")
    client = api(dora)

    with django_assert_max_num_queries(30):
        answer = client.get(f"{REPAIRS}{repair.id}/")

    assert len(answer.json()["history"]) == many


def test_pages_follow_each_other_newest_first_and_none_is_lost(api, anna):
    for day in range(7):
        RepairFactory(number=day + 1, booked_in_at=NOW + timedelta(days=day))

    page, numbers = api(anna).get(REPAIRS, {"page_size": 3}).json(), []
    while True:
        numbers += [row["number"] for row in page["results"]]
        if page["next"] is None:
            break
        page = api(anna).get(page["next"]).json()

    assert numbers == ["7", "6", "5", "4", "3", "2", "1"]


def test_a_repair_that_is_not_there_is_a_404(api, anna):
    answer = api(anna).get(f"{REPAIRS}{new_id()}/")

    assert answer.status_code == 404
    assert answer.json()["code"] == "not_found"
