"""Finding over HTTP."""

import pytest

from tests.factories.units import RepairFactory

pytestmark = pytest.mark.django_db
FIND = "/api/v1/find/"


def test_the_desk_finds_by_any_scrap(api, dora):
    repair = RepairFactory(number=417, unit__owner__name="Rosa Feld", unit__serial="92-0417")

    found = api(dora).get(FIND, {"q": "0417"}).json()["results"]
    named = api(dora).get(FIND, {"q": "rosa"}).json()["results"]

    assert [row["kind"] for row in found] == ["repair", "unit"]
    assert found[0]["repair"]["id"] == str(repair.id)
    assert [row["kind"] for row in named] == ["repair", "customer"]


def test_a_tech_gets_no_customer_and_nothing_by_phone(api, anna):
    RepairFactory(unit__owner__name="Rosa", unit__owner__phone_digits="1515555")

    named = api(anna).get(FIND, {"q": "rosa"})
    phoned = api(anna).get(FIND, {"q": "1515555"})

    assert [row["kind"] for row in named.json()["results"]] == ["repair"]
    assert phoned.json()["results"] == []


@pytest.mark.parametrize("scrap", ["7", "#7", "07"])
def test_a_number_however_short_finds_its_repair_first(api, dora, scrap):
    wanted = RepairFactory(number=7, unit__model="Model Q")
    for number in range(8, 20):
        RepairFactory(number=number, unit__serial=f"77-{number}07", unit__model="Model Q")

    found = api(dora).get(FIND, {"q": scrap}).json()["results"]

    assert found[0]["repair"]["id"] == str(wanted.id)


@pytest.mark.parametrize("scrap", ["PX7", "px-7", "PX 7", "testmake px7 mk2"])
def test_a_model_is_found_wherever_its_hyphens_and_spaces_stand(api, anna, scrap):
    repair = RepairFactory(unit__model="PX-7 Mk 2")
    RepairFactory(unit__model="QX-7")

    found = api(anna).get(FIND, {"q": scrap}).json()["results"]

    assert [row["repair"]["id"] for row in found if row["kind"] == "repair"] == [str(repair.id)]


@pytest.mark.parametrize("scrap", ["", " ", "%", "'; drop table", "Ω" * 50, "1 2 3 4 5 6 7 8 9"])
def test_odd_scraps_find_nothing_and_break_nothing(api, dora, scrap):
    RepairFactory()

    answer = api(dora).get(FIND, {"q": scrap})

    assert (answer.status_code, answer.json()["results"]) == (200, [])


@pytest.mark.parametrize("scrap", ["x" * 201, "\0"])
def test_what_cannot_be_looked_for_is_named(api, dora, scrap):
    answer = api(dora).get(FIND, {"q": scrap})

    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "q"
