"""Units, model sheets and places over HTTP."""

import pytest

from shop.calc.codes import Kind, make_code
from shop.core.ids import new_id
from shop.units.models import Shelf
from tests.factories.units import ModelSheetFactory, RepairFactory, UnitFactory

pytestmark = pytest.mark.django_db
SHELF = make_code(Kind.SHELF, "000001")


def act(client, unit, action, body):
    return client.post(f"/api/v1/units/{unit.id}/{action}/", body, format="json")


def test_scanning_a_shelf_records_the_place(api, dora):
    Shelf.objects.create(code=SHELF, name="Left")
    unit = UnitFactory()

    answer = act(api(dora), unit, "place", {"shelf": SHELF.lower()})

    assert answer.json()["place"] == {"code": SHELF, "name": "Left"}


@pytest.mark.parametrize(
    ("typed", "status", "code"),
    [("S000", 400, "bad_code"), (SHELF, 404, "unknown_code"), ("", 400, "bad_input")],
)
def test_a_shelf_that_is_none_is_refused(api, dora, typed, status, code):
    unit = UnitFactory()

    answer = act(api(dora), unit, "place", {"shelf": typed})

    unit.refresh_from_db()
    assert (answer.status_code, answer.json()["code"]) == (status, code)
    assert unit.shelf is None


def test_only_the_bench_clears_a_unit_for_power(api, anna, dora, max):
    unit = RepairFactory(stage="on_the_bench").unit
    sent = {"cleared": True, "reason": "cold gate passed"}

    desk, bench = act(api(dora), unit, "power", sent), act(api(anna), unit, "power", sent)
    back = act(api(max), unit, "power", {"cleared": False, "reason": "smells hot"})

    assert desk.status_code == 403
    assert bench.json()["do_not_power"] is False
    assert back.json()["do_not_power"] is True


@pytest.mark.parametrize(
    ("field", "sent"),
    [("reason", {"cleared": True}), ("reason", {"cleared": True, "reason": " "}),
     ("cleared", {"reason": "x"}), ("cleared", {"cleared": "perhaps", "reason": "x"})],
)  # fmt: skip
def test_clearing_names_its_bad_field(api, anna, field, sent):
    answer = act(api(anna), UnitFactory(), "power", sent)

    assert answer.status_code == 400
    assert [row["field"] for row in answer.json()["errors"]] == [field]


def test_a_unit_that_was_left_unrepaired_is_not_cleared(api, anna):
    unit = RepairFactory(stage="declined").unit

    answer = act(api(anna), unit, "power", {"cleared": True, "reason": "looks fine"})

    assert (answer.status_code, answer.json()["code"]) == (409, "stage_not_allowed")


def test_a_unit_that_is_not_there_is_a_404(api, anna):
    assert api(anna).get(f"/api/v1/units/{new_id()}/").status_code == 404


def test_sheets_are_found_by_their_words_and_shown_in_full(api, dora):
    sheet = ModelSheetFactory(make="Testmake", model="Glimmer", hazards=["selenium"])
    ModelSheetFactory(make="Testmake", model="Murk")

    rows = api(dora).get("/api/v1/model-sheets/", {"q": "glim"}).json()["results"]
    full = api(dora).get(f"/api/v1/model-sheets/{sheet.id}/").json()

    assert rows == [
        {"id": str(sheet.id), "make": "Testmake", "model": "Glimmer", "kind": "preamplifier"}
    ]
    assert full["hazards"] == [{"key": "selenium", "text": "selenium rectifier"}]
    assert full["supply_kind"] == "linear"


@pytest.mark.parametrize("sheets", [1, 20])
def test_sheets_take_the_same_queries_for_few_and_for_many(
    api, dora, sheets, django_assert_num_queries
):
    for _ in range(sheets):
        ModelSheetFactory()
    client = api(dora)

    with django_assert_num_queries(1):
        rows = client.get("/api/v1/model-sheets/").json()["results"]

    assert len(rows) == sheets
