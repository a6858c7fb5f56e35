"""Writes of units: into the book, onto a shelf, under power or not, pieces back to their owner."""

from __future__ import annotations

from collections.abc import Iterable

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shop.calc.codes import Kind
from shop.core.codes import with_new_code
from shop.core.errors import BadField
from shop.core.models import Person
from shop.customers.models import Customer
from shop.units.errors import PiecesMissing, UnknownCode
from shop.units.models import ModelSheet, Piece, PlaceEvent, Shelf, Unit
from shop.units.selectors import understood_code


@transaction.atomic
def add_unit(
    *, owner: Customer, make: str, model: str, serial: str = "", sheet: ModelSheet | None = None
) -> Unit:
    """Write a unit into the book under a new code; it must not be powered until a tech says so.

    The same make, model and serial is the same piece of equipment and keeps its code.
    """
    known = find_unit(make=make, model=model, serial=serial)
    if known:
        return known
    facts = {"owner": owner, "make": make, "model": model, "serial": serial, "model_sheet": sheet}
    return with_new_code(
        Kind.UNIT,
        lambda code: Unit.objects.create(code=code, **facts),
        lambda code: Unit.objects.filter(code=code).exists(),
    )


def find_unit(*, make: str, model: str, serial: str) -> Unit | None:
    """The one unit in the book with this make, model and serial, if the serial was given."""
    if not serial:
        return None
    alike = Unit.objects.filter(make__iexact=make, model__iexact=model, serial__iexact=serial)[:2]
    return alike[0] if len(alike) == 1 else None


def receive_unit(
    *, unit: Unit, owner: Customer, set_for_volt: int | None, set_for_hz: int | None
) -> None:
    """A unit comes in: whose it is now, what it is set for as found, and not to be powered."""
    unit.owner, unit.set_for_volt, unit.set_for_hz = owner, set_for_volt, set_for_hz
    unit.do_not_power, unit.power_note = True, ""
    unit.power_changed_at = unit.power_changed_by = None
    changed = ["owner", "set_for_volt", "set_for_hz", "do_not_power", "power_note"]
    unit.save(update_fields=[*changed, "power_changed_at", "power_changed_by"])


def add_piece(*, unit: Unit, name: str) -> Piece:
    """A loose piece that came with a unit gets a sub-tag."""
    return with_new_code(
        Kind.PIECE,
        lambda code: Piece.objects.create(code=code, unit=unit, name=name),
        lambda code: Piece.objects.filter(code=code).exists(),
    )


@transaction.atomic
def place_unit(*, unit: Unit, shelf_code: str, by: Person) -> Unit:
    """Note where a unit stands. The same shelf again is no second move.

    Raises BadCode for what is no code, UnknownCode when no shelf has it.
    """
    shelf = Shelf.objects.filter(code=understood_code(shelf_code).text).first()
    if shelf is None:
        raise UnknownCode(_("No shelf has this code."))
    if not Unit.objects.filter(id=unit.id).exclude(shelf=shelf).update(shelf=shelf):
        return unit
    PlaceEvent.objects.create(unit=unit, shelf=shelf, by=by, at=timezone.now())
    unit.shelf = shelf
    return unit


def set_power(*, unit: Unit, cleared: bool, reason: str, by: Person) -> Unit:
    """Say whether a unit may be powered, and why. Raises BadField without a reason."""
    if not reason.strip():
        raise BadField("reason", _("Say why it may or may not be powered."), "blank")
    unit.do_not_power, unit.power_note = not cleared, reason.strip()[:200]
    unit.power_changed_at, unit.power_changed_by = timezone.now(), by
    unit.save(update_fields=["do_not_power", "power_note", "power_changed_at", "power_changed_by"])
    return unit


def note_set_for(*, unit: Unit, volt: int, hz: int | None) -> None:
    """The unit is now set for another supply: its next tag says so. A repeat changes nothing."""
    Unit.objects.filter(id=unit.id).update(set_for_volt=volt, set_for_hz=hz)


def rule_on_power(*, unit: Unit, is_allowed: bool, why: str) -> None:
    """The unit may or must not be powered, whoever is signed in: a rule says so."""
    Unit.objects.filter(id=unit.id).update(
        do_not_power=not is_allowed, power_note=why[:200], power_changed_at=timezone.now()
    )


@transaction.atomic
def return_pieces(*, unit: Unit, ticked: Iterable[str], missing_reason: str = "") -> None:
    """Tick off the loose pieces that go back with a unit; the rest is missing, with a reason.

    Raises BadField for a code that is none of this unit's pieces, PiecesMissing when some were
    not ticked and no reason was given.
    """
    here = {piece.code: piece for piece in unit.pieces.filter(state=Piece.State.HERE)}
    codes = {understood_code(code).text for code in ticked}
    if strange := sorted(codes - here.keys()):
        detail = _("%(code)s is no piece of this unit that is here.") % {"code": strange[0]}
        raise BadField("pieces", detail, "unknown_code")
    missing = sorted(here.keys() - codes)
    if missing and not missing_reason.strip():
        names = ", ".join(here[code].name for code in missing)
        raise PiecesMissing(
            _("Not ticked off: %(names)s. Tick them, or say why they are missing.")
            % {"names": names},
            missing=missing,
        )
    unit.pieces.filter(code__in=codes).update(state=Piece.State.HANDED_BACK)
    unit.pieces.filter(code__in=missing).update(state=Piece.State.MISSING)
