"""Scan or type a code: what hangs on the tag."""

from datetime import date

import pytest

from shop.benches.models import Meter
from shop.calc.codes import Kind, make_code
from shop.stock.models import Bin, Part, Supplier
from shop.units.models import Shelf
from shop.units.services import add_piece
from tests.factories.jobs import MeterFactory
from tests.factories.stock import BinFactory, PartFactory
from tests.factories.units import RepairFactory, ShelfFactory, UnitFactory

pytestmark = pytest.mark.django_db


def code(kind, body="000001"):
    return make_code(kind, body)


def look(client, typed):
    return client.get(f"/api/v1/codes/{typed}/")


def test_a_unit_comes_with_the_repair_it_is_here_for(api, anna):
    repair = RepairFactory(unit__code=code(Kind.UNIT))

    answer = look(api(anna), code(Kind.UNIT)).json()

    assert (answer["kind"], answer["repair"]) == ("unit", str(repair.id))
    assert answer["unit"]["id"] == str(repair.unit_id)
    assert answer["worksheets"] == []


def test_a_unit_that_is_not_here_has_no_repair(api, anna):
    RepairFactory(unit__code=code(Kind.UNIT), stage="handed_back")

    assert look(api(anna), code(Kind.UNIT)).json()["repair"] is None


def test_a_piece_leads_to_its_unit(api, anna):
    repair = RepairFactory()
    piece = add_piece(unit=repair.unit, name="footswitch")

    answer = look(api(anna), piece.code).json()

    assert (answer["kind"], answer["code"]) == ("piece", piece.code)
    assert answer["unit"]["code"] == repair.unit.code
    assert answer["repair"] == str(repair.id)


@pytest.mark.parametrize("units", [1, 9])
def test_a_shelf_shows_what_stands_on_it_in_the_same_queries_for_few_and_for_many(
    api, anna, units, django_assert_num_queries
):
    shelf = Shelf.objects.create(code=code(Kind.SHELF), name="Left")
    for _ in range(units):
        add_piece(unit=UnitFactory(shelf=shelf), name="cord")
    UnitFactory()
    client = api(anna)

    with django_assert_num_queries(3):
        answer = look(client, shelf.code).json()

    assert (answer["kind"], answer["shelf"]["name"]) == ("shelf", "Left")
    assert len(answer["shelf"]["units"]) == units


def test_a_meter_tells_whether_its_calibration_holds(api, anna):
    Meter.objects.create(code=code(Kind.METER), name="Meter", calibration_due_on=date(2020, 1, 1))

    answer = look(api(anna), code(Kind.METER)).json()

    assert (answer["kind"], answer["meter"]["state"]) == ("meter", "overdue")


def test_a_part_and_its_bin(api, anna):
    supplier = Supplier.objects.create(name="Parts", email="parts@mail.example")
    part = Part.objects.create(code=code(Kind.PART), name="Fuse", supplier=supplier)
    bin = Bin.objects.create(code=code(Kind.BIN), name="A1")
    part.levels.create(bin=bin, on_hand=7)

    found_part = look(api(anna), part.code).json()
    found_bin = look(api(anna), bin.code).json()

    assert (found_part["kind"], found_part["part"]["on_hand"]) == ("part", 7)
    assert found_bin["bin"] == {"code": bin.code, "name": "A1", "on_hand": 7}
    assert [one["code"] for one in found_bin["parts"]] == [part.code]


@pytest.mark.parametrize("kind", list(Kind))
def test_a_code_that_hangs_nowhere_is_unknown(api, anna, kind):
    answer = look(api(anna), code(kind))

    assert (answer.status_code, answer.json()["code"]) == (404, "unknown_code")


@pytest.mark.parametrize(
    ("typed", "slip"),
    [
        ("NR7Q2K9B", "check_does_not_fit"),
        ("NR7Q2K9", "wrong_length"),
        ("QR7Q2K9A", "unknown_kind"),
        ("NR7Q2K%C3%849A", "wrong_length"),
    ],
)
def test_a_slip_is_named_before_anything_is_looked_up(
    api, anna, typed, slip, django_assert_num_queries
):
    client = api(anna)

    with django_assert_num_queries(0):
        answer = look(client, typed)

    assert (answer.status_code, answer.json()["code"]) == (400, "bad_code")
    (row,) = answer.json()["errors"]
    assert (row["field"], row["code"]) == ("code", slip)


@pytest.mark.parametrize("typed", ["{0}", "{1}", "{2}-{3}", "https%3A//shop.example/app/t/{0}"])
def test_a_code_is_read_however_it_is_written(api, anna, typed):
    text = code(Kind.UNIT)
    UnitFactory(code=text)

    answer = look(api(anna), typed.format(text, text.lower(), text[:4], text[4:]))

    assert answer.json()["code"] == text


def test_a_phone_gets_the_codes_of_the_shops_own_things_and_nothing_of_a_unit(api, anna):
    bin, part, meter, shelf = BinFactory(), PartFactory(), MeterFactory(), ShelfFactory()
    repair = RepairFactory()

    answer = api(anna).get("/api/v1/codes/")

    assert answer.json()["codes"] == [
        {"code": bin.code, "kind": "bin", "name": bin.name},
        {"code": part.code, "kind": "part", "name": part.name},
        {"code": meter.code, "kind": "meter", "name": meter.name},
        {"code": shelf.code, "kind": "shelf", "name": shelf.name},
    ]
    assert repair.unit.code not in answer.content.decode()


def test_a_list_of_codes_that_the_phone_has_is_not_sent_again(api, anna):
    first = api(anna).get("/api/v1/codes/")

    again = api(anna).get("/api/v1/codes/", HTTP_IF_NONE_MATCH=first["ETag"])
    PartFactory()
    changed = api(anna).get("/api/v1/codes/", HTTP_IF_NONE_MATCH=first["ETag"])

    assert (again.status_code, again.content) == (304, b"")
    assert changed.status_code == 200
    assert "private" in changed["Cache-Control"]


def test_the_list_of_codes_takes_four_questions_however_long_it_is(
    api, anna, django_assert_max_num_queries
):
    for _ in range(12):
        PartFactory(), BinFactory()
    client = api(anna)
    client.get("/api/v1/codes/")

    with django_assert_max_num_queries(7):  # and three to know who asks
        client.get("/api/v1/codes/")
