"""Units get codes, places, a word about power, and their pieces back."""

import pytest
from django.db import IntegrityError, transaction

from shop.calc.codes import Kind, make_code, read_code
from shop.core import codes
from shop.core.errors import BadField
from shop.units import services
from shop.units.errors import BadCode, PiecesMissing, UnknownCode
from shop.units.models import ModelSheet, Piece, PlaceEvent, Shelf, Unit
from tests.factories.units import CustomerFactory, ModelSheetFactory, UnitFactory

pytestmark = pytest.mark.django_db
A, B = make_code(Kind.SHELF, "AAAAAA"), make_code(Kind.SHELF, "BBBBBB")


@pytest.fixture
def shelves():
    return [Shelf.objects.create(code=A, name="Left"), Shelf.objects.create(code=B, name="Right")]


def test_a_new_unit_gets_a_code_that_reads_back_and_must_not_be_powered():
    unit = services.add_unit(owner=CustomerFactory(), make="Testmake", model="Glimmer 2")

    assert read_code(unit.code).kind is Kind.UNIT
    assert unit.do_not_power


def test_the_same_make_model_and_serial_is_the_same_unit():
    first = services.add_unit(owner=CustomerFactory(), make="Testmake", model="G2", serial="92-1")
    again = services.add_unit(owner=CustomerFactory(), make="TESTMAKE", model="g2", serial="92-1")
    other = services.add_unit(owner=CustomerFactory(), make="Testmake", model="G2", serial="92-2")

    assert first == again
    assert first != other


def test_units_without_a_serial_are_never_taken_for_each_other():
    owner = CustomerFactory()

    first = services.add_unit(owner=owner, make="Testmake", model="G2")
    second = services.add_unit(owner=owner, make="Testmake", model="G2")

    assert first.code != second.code


def test_a_code_that_is_taken_is_drawn_again(monkeypatch):
    taken, free = make_code(Kind.UNIT, "000001"), make_code(Kind.UNIT, "000002")
    UnitFactory(code=taken)
    draws = iter([taken, free])
    monkeypatch.setattr(codes, "draw_code", lambda kind: next(draws))

    unit = services.add_unit(owner=CustomerFactory(), make="Testmake", model="G2")

    assert unit.code == free


def test_a_code_that_somebody_else_took_meanwhile_is_drawn_again(monkeypatch):
    taken, free = make_code(Kind.UNIT, "000001"), make_code(Kind.UNIT, "000002")
    UnitFactory(code=taken)
    draws, looks = iter([taken, free]), iter([False, True, False])
    monkeypatch.setattr(codes, "draw_code", lambda kind: next(draws))

    unit = codes.with_new_code(
        Kind.UNIT, lambda code: UnitFactory(code=code), lambda code: next(looks)
    )

    assert unit.code == free


def test_a_scanned_shelf_is_the_units_place_and_the_same_again_is_no_second_move(shelves, dora):
    unit = UnitFactory()

    services.place_unit(unit=unit, shelf_code=A.lower(), by=dora)
    services.place_unit(unit=unit, shelf_code=f"https://shop.example/app/t/{A}", by=dora)
    services.place_unit(unit=unit, shelf_code=B, by=dora)

    unit.refresh_from_db()
    assert unit.shelf_id == B
    assert list(PlaceEvent.objects.order_by("at").values_list("shelf_id", flat=True)) == [A, B]


@pytest.mark.parametrize(
    ("typed", "error"), [("S123", BadCode), (make_code(Kind.SHELF, "CCCCCC"), UnknownCode)]
)
def test_a_place_that_is_none_leaves_the_unit_where_it_is(shelves, dora, typed, error):
    unit = UnitFactory(shelf=shelves[0])

    with pytest.raises(error):
        services.place_unit(unit=unit, shelf_code=typed, by=dora)

    unit.refresh_from_db()
    assert unit.shelf == shelves[0]
    assert not PlaceEvent.objects.exists()


def test_clearing_a_unit_for_power_keeps_who_and_why(anna):
    unit = services.set_power(unit=UnitFactory(), cleared=True, reason="cold gate ", by=anna)

    unit.refresh_from_db()
    assert not unit.do_not_power
    assert (unit.power_note, unit.power_changed_by) == ("cold gate", anna)
    assert unit.power_changed_at is not None


def test_power_is_not_cleared_without_a_reason(anna):
    unit = UnitFactory()

    with pytest.raises(BadField) as refused:
        services.set_power(unit=unit, cleared=True, reason=" ", by=anna)

    unit.refresh_from_db()
    assert refused.value.field == "reason"
    assert unit.do_not_power


def test_pieces_that_are_not_ticked_stop_the_hand_back():
    unit = UnitFactory()
    cord, pedal = (services.add_piece(unit=unit, name=name) for name in ("cord", "pedal"))

    with pytest.raises(PiecesMissing) as refused:
        services.return_pieces(unit=unit, ticked=[cord.code])

    assert "pedal" in str(refused.value.detail)
    assert refused.value.facts["missing"] == [pedal.code]
    assert set(unit.pieces.values_list("state", flat=True)) == {"here"}


def test_a_reason_lets_a_piece_be_missing():
    unit = UnitFactory()
    cord, pedal = (services.add_piece(unit=unit, name=name) for name in ("cord", "pedal"))

    services.return_pieces(unit=unit, ticked=[cord.code], missing_reason="fetched last week")

    states = dict(unit.pieces.values_list("code", "state"))
    assert states == {cord.code: Piece.State.HANDED_BACK, pedal.code: Piece.State.MISSING}


def test_a_piece_of_another_unit_cannot_be_ticked():
    unit, other = UnitFactory(), UnitFactory()
    stray = services.add_piece(unit=other, name="cord")

    with pytest.raises(BadField) as refused:
        services.return_pieces(unit=unit, ticked=[stray.code])

    stray.refresh_from_db()
    assert refused.value.field == "pieces"
    assert stray.state == Piece.State.HERE


def test_the_database_keeps_one_sheet_per_make_and_model():
    ModelSheetFactory(make="Testmake", model="G2")

    with pytest.raises(IntegrityError), transaction.atomic():
        ModelSheetFactory(make="Testmake", model="G2")

    assert ModelSheet.objects.count() == 1


def test_the_database_knows_four_protection_classes():
    with (
        pytest.raises(IntegrityError, match="modelsheet_protection_class_is_known"),
        transaction.atomic(),
    ):
        ModelSheetFactory(protection_class="IV")


def test_the_database_keeps_one_unit_per_code():
    UnitFactory(code="N0000001")

    with pytest.raises(IntegrityError), transaction.atomic():
        UnitFactory(code="N0000001")

    assert Unit.objects.count() == 1
