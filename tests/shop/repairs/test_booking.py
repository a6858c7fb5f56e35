"""Booking in: one transaction, one number, one repeat."""

import pytest
from django.db import IntegrityError, transaction

from shop.calc.codes import Kind, read_code
from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.core.models import Counter, OutboxEvent
from shop.customers.models import Customer
from shop.repairs.booking_facts import Allowed, CustomerWanted, PhotoTaken, UnitWanted
from shop.repairs.errors import AlreadyHere
from shop.repairs.models import Repair, RepairPhoto, StageEvent, StatusLink
from shop.repairs.services import book_in
from shop.repairs.services import booking as booking_module
from shop.units.models import Piece, Unit
from tests.factories.booking import booking
from tests.factories.units import CustomerFactory, ModelSheetFactory, RepairFactory, UnitFactory

pytestmark = pytest.mark.django_db
SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0L9 9"/></svg>'
TABLES = (Repair, Customer, Unit, Piece, StageEvent, RepairPhoto, StatusLink, OutboxEvent, Counter)


def rows():
    return {table.__name__: table.objects.count() for table in TABLES}


def test_a_booking_leaves_customer_unit_pieces_event_link_and_work_to_follow(dora):
    facts = booking(
        pieces=["mains cord", "footswitch"],
        photos=[PhotoTaken("a" * 64, "dented lid")],
        signature={"svg": SVG, "strokes": [[[0, 0], [9, 9]]], "name": "Rosa Feld"},
    )

    repair, created = book_in(facts=facts, by=dora)

    event = StageEvent.objects.get()
    assert created
    assert (repair.id, repair.number, repair.stage) == (facts.id, 1, "booked_in")
    assert (event.from_stage, event.to_stage, event.by) == ("", "booked_in", dora)
    assert repair.customer.name == "Rosa Feld"
    assert (repair.unit.owner, repair.unit.set_for_volt) == (repair.customer, 230)
    assert repair.unit.do_not_power
    assert read_code(repair.unit.code).kind is Kind.UNIT
    assert {read_code(piece.code).kind for piece in repair.unit.pieces.all()} == {Kind.PIECE}
    assert sorted(p.name for p in repair.unit.pieces.all()) == ["footswitch", "mains cord"]
    assert RepairPhoto.objects.get().caption == "dented lid"
    assert StatusLink.objects.get().repair == repair
    work = sorted((row.kind, row.payload["kind"]) for row in OutboxEvent.objects.all())
    assert work == [
        ("documents.issue", "receipt"),
        ("documents.issue", "tag"),
        ("notices.tell_customer", "booked_in"),
    ]
    assert {row.payload["cause_id"] for row in OutboxEvent.objects.all()} == {str(event.id)}


def test_numbers_follow_without_a_gap_even_after_a_refusal(dora):
    first, _ = book_in(facts=booking(), by=dora)
    with pytest.raises(AlreadyHere):
        book_in(facts=booking(), by=dora)
    second, _ = book_in(facts=booking(unit=UnitWanted(make="T", model="Other")), by=dora)

    assert (first.number, second.number) == (1, 2)


def test_the_same_booking_sent_twice_is_one_repair(dora):
    facts = booking(pieces=["mains cord"])
    first, _ = book_in(facts=facts, by=dora)
    before = rows()

    again, created = book_in(facts=facts, by=dora)

    assert (again, created) == (first, False)
    assert rows() == before


def test_the_same_id_with_another_complaint_is_a_conflict_and_changes_nothing(dora):
    facts = booking()
    book_in(facts=facts, by=dora)
    before = rows()

    with pytest.raises(Conflict):
        book_in(facts=booking(id=facts.id, complaint="Something else."), by=dora)

    assert rows() == before
    assert Repair.objects.get().complaint == facts.complaint


def test_a_unit_that_is_here_cannot_be_booked_in_again_and_the_repair_is_named(dora):
    here = RepairFactory(number=41)
    before = rows()

    with pytest.raises(AlreadyHere, match="41") as refused:
        book_in(facts=booking(unit=UnitWanted(id=here.unit_id)), by=dora)

    assert refused.value.facts == {"repair": str(here.id), "number": 41}
    assert rows() == before


def test_a_unit_known_by_its_serial_keeps_its_code_on_its_next_visit(dora):
    unit = UnitFactory(make="Testmake", model="Glimmer 2", serial="92-0417", do_not_power=False)
    RepairFactory(unit=unit, stage="handed_back")

    repair, _ = book_in(facts=booking(), by=dora)

    unit.refresh_from_db()
    assert repair.unit == unit
    assert unit.owner == repair.customer  # it was sold on
    assert unit.do_not_power  # until a tech says so again


def test_two_desks_with_the_same_unit_make_one_repair(dora, monkeypatch):
    unit = UnitFactory()
    RepairFactory(unit=unit)
    looks = []

    def looks_too_early(found):
        looks.append(found)
        if len(looks) > 1:
            real(found)

    real = booking_module._require_not_here
    monkeypatch.setattr(booking_module, "_require_not_here", looks_too_early)

    with pytest.raises(AlreadyHere):  # from the constraint, not from the look before
        book_in(facts=booking(unit=UnitWanted(id=unit.id)), by=dora)

    assert Repair.objects.count() == 1
    assert not OutboxEvent.objects.exists()


def test_a_twin_that_lands_between_the_two_looks_is_the_same_repair(dora, monkeypatch):
    facts, looks = booking(), []
    first, _ = book_in(facts=facts, by=dora)

    def looks_too_early(found):
        looks.append(found)
        return real(found) if len(looks) > 1 else None

    real = booking_module._known
    monkeypatch.setattr(booking_module, "_known", looks_too_early)

    again, created = book_in(facts=facts, by=dora)  # meets its own unit, already here

    assert (again, created) == (first, False)
    assert (Repair.objects.count(), OutboxEvent.objects.count()) == (1, 3)


def test_a_booking_that_fails_at_the_end_leaves_nothing(dora, monkeypatch):
    def fails(kind):
        raise RuntimeError("no number")

    monkeypatch.setattr(booking_module, "next_number", fails)

    with pytest.raises(RuntimeError, match="no number"):
        book_in(facts=booking(pieces=["mains cord"]), by=dora)

    assert set(rows().values()) == {0}


def test_a_sheet_gives_make_and_model_where_the_desk_wrote_none(dora):
    sheet = ModelSheetFactory(make="Testmake", model="Murk")

    repair, _ = book_in(facts=booking(unit=UnitWanted(model_sheet=sheet.id)), by=dora)

    assert (repair.unit.make, repair.unit.model) == ("Testmake", "Murk")
    assert repair.unit.model_sheet == sheet


def test_a_customer_of_the_book_is_not_written_down_again(dora):
    rosa = CustomerFactory()

    repair, _ = book_in(facts=booking(customer=CustomerWanted(id=rosa.id)), by=dora)

    assert repair.customer == rosa
    assert Customer.objects.count() == 1


def test_what_it_is_set_for_may_be_unknown(dora):
    repair, _ = book_in(facts=booking(set_for_volt=None, set_for_hz=None), by=dora)

    assert repair.set_for_volt is None
    assert repair.unit.set_for_volt is None


def test_without_a_public_address_a_unit_is_booked_in_without_a_link(dora, settings):
    settings.PUBLIC_URL = ""

    repair, _ = book_in(facts=booking(), by=dora)

    assert repair.number == 1
    assert not StatusLink.objects.exists()


BAD = [
    ("complaint", {"complaint": "  "}),
    ("customer.name", {"customer": CustomerWanted()}),
    ("customer.email", {"customer": CustomerWanted(name="Rosa", email="nowhere")}),
    ("customer.id", {"customer": CustomerWanted(id=new_id())}),
    ("unit.id", {"unit": UnitWanted(id=new_id())}),
    ("unit.make", {"unit": UnitWanted(model="G2")}),
    ("unit.model", {"unit": UnitWanted(make="Testmake")}),
    ("unit.model_sheet", {"unit": UnitWanted(model_sheet=new_id())}),
    ("allowed.diagnosis_fee_minor", {"allowed": Allowed(diagnosis_fee_minor=-1)}),
    ("allowed.spending_limit_minor", {"allowed": Allowed(spending_limit_minor=2**31)}),
    ("allowed.visible_changes", {"allowed": Allowed(visible_changes="perhaps")}),
    ("allowed.sounds", {"allowed": Allowed(sounds="loud")}),
    ("use_at_country", {"use_at_country": "XX"}),
    ("use_at_volt", {"use_at_country": "JP", "use_at_volt": 230}),
    ("use_at_hz", {"use_at_country": "US", "use_at_volt": 120, "use_at_hz": 50}),
    ("signature", {"signature": {"svg": "x" * 200_000}}),
    ("signature.svg", {"signature": {"svg": "<script>", "strokes": []}}),
    ("pieces", {"pieces": ["screw"] * 41}),
    ("photos", {"photos": [PhotoTaken("a" * 64)] * 41}),
]


@pytest.mark.parametrize(("field", "changes"), BAD, ids=[field for field, _ in BAD])
def test_what_cannot_be_written_down_is_named_and_nothing_is_kept(dora, field, changes):
    with pytest.raises(BadField) as refused:
        book_in(facts=booking(**changes), by=dora)

    assert refused.value.field == field
    assert set(rows().values()) == {0}


@pytest.mark.parametrize(
    ("country", "volt", "hz"),
    [
        ("JP", 100, 50),  # both frequencies are in use there
        ("JP", 100, 60),
        ("US", 120, 60),
        ("GB", 240, 50),  # inside 230 V -6/+10 %
        ("DE", 230, 50),
    ],
)
def test_supplies_that_exist_there_are_taken(dora, country, volt, hz):
    facts = booking(use_at_country=country, use_at_volt=volt, use_at_hz=hz)

    repair, _ = book_in(facts=facts, by=dora)

    assert (repair.use_at_country, repair.use_at_volt, repair.use_at_hz) == (country, volt, hz)


def test_a_supply_that_does_not_exist_there_is_taken_once_confirmed(dora):
    facts = booking(use_at_country="JP", use_at_volt=230, use_at_confirmed=True)

    repair, _ = book_in(facts=facts, by=dora)

    assert repair.use_at_volt == 230


def test_the_database_keeps_a_photo_once_per_repair():
    repair = RepairFactory()
    photo = {"repair": repair, "sha256": "a" * 64, "taken_at": repair.booked_in_at}
    RepairPhoto.objects.create(**photo)

    with pytest.raises(IntegrityError), transaction.atomic():
        RepairPhoto.objects.create(**photo)
