"""Model sheets over HTTP: read, written whole, with what is missing and what was changed."""

import pytest

from shop.core.ids import new_id
from shop.units.models import ModelSheet
from tests.factories.jobs import caution, publish_revision, reading
from tests.factories.jobs import template as template_body
from tests.factories.sheets import full_sheet
from tests.factories.units import ModelSheetFactory, UnitFactory

pytestmark = pytest.mark.django_db
SHEETS = "/api/v1/model-sheets/"


@pytest.fixture
def sheet(db):
    return ModelSheetFactory(**full_sheet())


def put(client, sheet, body, version=1):
    headers = {} if version is None else {"If-Match": f'"{version}"'}
    return client.put(f"{SHEETS}{sheet.id}/", body, format="json", headers=headers)


def test_a_sheet_is_read_changed_and_read_again(api, anna, sheet):
    client = api(anna)
    read = client.get(f"{SHEETS}{sheet.id}/")
    beside = {"id", "version", "doubts", "lacks"}
    body = {name: value for name, value in read.json().items() if name not in beside}
    body["hazards"] = ["leaking_cell"]

    saved = put(client, sheet, {**body, "why": "seen today"}, version=read["ETag"].strip('"'))

    assert saved.status_code == 200, saved.json()
    assert saved["ETag"] == '"2"'
    assert saved.json()["hazards"] == [{"key": "leaking_cell", "text": "leaking cell"}]
    (change,) = client.get(f"{SHEETS}{sheet.id}/changes/?since=1").json()["results"]
    assert (change["title"], change["sentences"]) == ("Hazards", ["Hazards: leaking cell."])
    assert (change["by_name"], change["why"]) == (anna.name, "seen today")


def test_a_save_says_from_which_version(api, anna, sheet):
    client = api(anna)

    missing, stale = put(client, sheet, full_sheet(), None), put(client, sheet, full_sheet(), 7)

    assert (missing.status_code, missing.json()["code"]) == (428, "if_match_missing")
    assert (stale.status_code, stale.json()["code"]) == (412, "stale")


def test_a_new_sheet_goes_to_its_unit(api, max):
    unit, id = UnitFactory(), new_id()
    body = {"id": str(id), "unit": str(unit.id), **full_sheet()}

    made = api(max).post(SHEETS, body, format="json")
    again = api(max).post(SHEETS, body, format="json")

    unit.refresh_from_db()
    assert (made.status_code, again.status_code) == (201, 200)
    assert unit.model_sheet_id == id


def test_a_refusal_names_the_field_in_plain_words(api, anna, sheet):
    body = full_sheet()
    body["rails"][0]["low"] = "much"

    refused = put(api(anna), sheet, body)

    (error,) = refused.json()["errors"]
    assert refused.status_code == 400
    assert (error["field"], error["detail"]) == ("rails[0].low", "This must be a number.")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"known_faults": [{"fault": "Hums.", "template": "nowhere"}]}, "known_faults[0].template"),
        ({"pictures": [{"sha256": "0" * 64, "caption": ""}]}, "pictures[0].sha256"),
    ],
)
def test_what_a_sheet_names_must_be_there(api, anna, sheet, change, field):
    refused = put(api(anna), sheet, full_sheet(**change))

    assert refused.status_code == 400
    assert refused.json()["errors"][0]["field"] == field
    assert ModelSheet.objects.get().version == 1


def test_the_desk_reads_and_does_not_write(api, dora, sheet):
    assert api(dora).get(f"{SHEETS}{sheet.id}/").status_code == 200
    assert put(api(dora), sheet, full_sheet()).status_code == 403


def test_the_list_tells_what_is_missing_for_which_job(api, anna, sheet):
    ModelSheetFactory(make="Bare", model="B1", supply_kind="switch_mode")
    band = {"low": 0, "high": {"fact": "sheet.idle_watt"}}
    step = reading(id="idle", quantity="power", band=band)
    publish_revision(body=template_body(caution(), step, slug="idle", title="Idle check"))

    bare, full = api(anna).get(f"{SHEETS}?full=1").json()["results"]

    assert bare["lacks"] == [{"template": "idle", "title": "Idle check", "what": ["Idle power"]}]
    assert full["lacks"] == []
    assert [doubt["text"] for doubt in full["doubts"]] == [
        "No fuse for 115 V.", "Nobody says where the idle power is known from.",
    ]  # fmt: skip


@pytest.mark.parametrize("sheets", [1, 8])
def test_the_list_takes_the_same_queries_for_one_and_for_many(
    api, anna, sheets, django_assert_max_num_queries
):
    for _ in range(sheets):
        ModelSheetFactory()
    client = api(anna)
    client.get(f"{SHEETS}?full=1")

    with django_assert_max_num_queries(4):
        answer = client.get(f"{SHEETS}?full=1")

    assert len(answer.json()["results"]) == sheets


def test_the_form_is_drawn_from_the_shape(api, anna):
    shape = api(anna).get(f"{SHEETS}shape/").json()

    fields = shape["$defs"]["Sheet"]["properties"]
    assert fields["idle_watt"]["x-unit"] == "W"
    assert fields["supply_kind"]["x-labels"]["linear"] == "linear, with a mains transformer"
