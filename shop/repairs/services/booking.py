"""Booking in: one transaction from the customer's name to the number on the receipt."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.core.errors import BadField, Conflict
from shop.core.ids import new_id
from shop.core.models import Person
from shop.core.selectors import public_url
from shop.core.services import next_number
from shop.customers.models import Customer
from shop.customers.services import add_customer
from shop.repairs import stages
from shop.repairs.booking_facts import BookIn, CustomerWanted, UnitWanted, check
from shop.repairs.errors import AlreadyHere
from shop.repairs.models import Repair, RepairPhoto, Stage, StageEvent
from shop.repairs.services.links import issue_status_link
from shop.repairs.services.stage_changes import record_work
from shop.units.models import ModelSheet, Unit
from shop.units.services import add_piece, add_unit, find_unit, receive_unit


def book_in(*, facts: BookIn, by: Person) -> tuple[Repair, bool]:
    """Take a unit in. Answers the repair and whether it is new.

    A repeat with the same id returns the first result. Raises AlreadyHere when the unit has an
    open repair, BadField for what cannot be written down, Conflict if the id has other content.
    """
    check(facts)
    try:
        return _book_in(facts, by)
    except (IntegrityError, AlreadyHere):
        # Somebody was quicker: the same booking sent twice at once, or the same unit at two desks.
        # The twin may also have landed between our two looks; then "already here" is itself.
        if known := _known(facts):
            return known, False
        _require_not_here(_unit_of_book(facts.unit))
        raise


@transaction.atomic
def _book_in(facts: BookIn, by: Person) -> tuple[Repair, bool]:
    if known := _known(facts):
        return known, False
    _require_not_here(_unit_of_book(facts.unit))
    now = timezone.now()
    customer = _customer(facts.customer)
    unit = _unit(facts.unit, customer)
    receive_unit(
        unit=unit,
        owner=customer,
        set_for_volt=facts.set_for_volt,
        set_for_hz=facts.set_for_hz,
    )
    for name in facts.pieces:
        add_piece(unit=unit, name=name)
    repair = _write_repair(facts, by, customer, unit, now)
    _follow(repair, facts, by, now)
    return repair, True


def _known(facts: BookIn) -> Repair | None:
    repair = Repair.objects.filter(id=facts.id).first()
    if repair and repair.content_hash != facts.content_hash():
        raise Conflict(id=str(facts.id))
    return repair


def _unit_of_book(wanted: UnitWanted) -> Unit | None:
    if wanted.id is None:
        return find_unit(make=wanted.make, model=wanted.model, serial=wanted.serial)
    unit = Unit.objects.filter(id=wanted.id).first()
    if unit is None:
        raise BadField("unit.id", _("This unit is not in the book."), "does_not_exist")
    return unit


def _require_not_here(unit: Unit | None) -> None:
    still_open = unit and unit.repairs.exclude(stage__in=stages.CLOSED).first()
    if still_open:
        number = {"number": still_open.number}
        raise AlreadyHere(
            _("This unit is already here, as repair %(number)s.") % number,
            repair=str(still_open.id),
            **number,
        )


def _customer(wanted: CustomerWanted) -> Customer:
    if wanted.id is None:
        return _new_customer(wanted)
    customer = Customer.objects.filter(id=wanted.id).first()
    if customer is None:
        raise BadField("customer.id", _("This customer is not in the book."), "does_not_exist")
    return customer


def _new_customer(wanted: CustomerWanted) -> Customer:
    try:
        return add_customer(
            id=new_id(),
            name=wanted.name,
            phone=wanted.phone,
            email=wanted.email,
            language=wanted.language,
        )
    except BadField as refused:
        raise BadField(f"customer.{refused.field}", refused.detail, refused.field_code) from refused


def _unit(wanted: UnitWanted, owner: Customer) -> Unit:
    if known := _unit_of_book(wanted):
        return known
    sheet = _sheet(wanted)
    make, model = wanted.make.strip(), wanted.model.strip()
    if sheet:
        make, model = make or sheet.make, model or sheet.model
    for field, value in (("make", make), ("model", model)):
        if not value:
            raise BadField(f"unit.{field}", _("A unit needs a make and a model."), "blank")
    return add_unit(owner=owner, make=make, model=model, serial=wanted.serial.strip(), sheet=sheet)


def _sheet(wanted: UnitWanted) -> ModelSheet | None:
    if wanted.model_sheet is None:
        return None
    sheet = ModelSheet.objects.filter(id=wanted.model_sheet).first()
    if sheet is None:
        detail = _("There is no such model sheet.")
        raise BadField("unit.model_sheet", detail, "does_not_exist")
    return sheet


def _write_repair(
    facts: BookIn, by: Person, customer: Customer, unit: Unit, now: datetime
) -> Repair:
    return Repair.objects.create(
        id=facts.id,
        unit=unit,
        customer=customer,
        stage=Stage.BOOKED_IN,
        stage_since=now,
        booked_in_at=now,
        booked_in_by=by,
        content_hash=facts.content_hash(),
        due_on=facts.due_on,
        complaint=facts.complaint.strip(),
        last_worked=facts.last_worked,
        last_supply=facts.last_supply,
        set_for_volt=facts.set_for_volt,
        set_for_hz=facts.set_for_hz,
        use_at_country=facts.use_at_country,
        use_at_volt=facts.use_at_volt,
        use_at_hz=facts.use_at_hz,
        damage=facts.damage,
        diagnosis_fee_minor=facts.allowed.diagnosis_fee_minor,
        spending_limit_minor=facts.allowed.spending_limit_minor,
        visible_changes=facts.allowed.visible_changes,
        sounds=facts.allowed.sounds,
        signature=facts.signature,
        # Last before the write that needs it: everybody else at a desk waits for this row.
        number=next_number("repair"),
    )


def _follow(repair: Repair, facts: BookIn, by: Person, now: datetime) -> None:
    """Photos, the first event, the status link, papers and the message, with the repair itself."""
    captions = {photo.sha256: photo.caption for photo in facts.photos}
    RepairPhoto.objects.bulk_create(
        RepairPhoto(repair=repair, sha256=sha256, caption=caption, taken_at=now)
        for sha256, caption in captions.items()
    )
    event = StageEvent.objects.create(
        id=new_id(), repair=repair, from_stage="", to_stage=Stage.BOOKED_IN, at=now, by=by
    )
    if public_url():
        issue_status_link(repair=repair)
    record_work("documents.issue", repair, event, kind="receipt")
    record_work("documents.issue", repair, event, kind="tag")
    record_work("notices.tell_customer", repair, event, kind="booked_in")
