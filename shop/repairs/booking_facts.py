"""What the desk writes down when a unit comes in."""

from __future__ import annotations

from datetime import date
from typing import Any
from uuid import UUID

import msgspec
from django.utils.translation import gettext as _

from shop.calc.supplies.country import CountryIn, CountryOut, country
from shop.calc.working import BadInput
from shop.core.errors import BadField
from shop.core.idempotency import content_hash
from shop.repairs.models import Sounds, VisibleChanges
from shop.repairs.signature import require_signature

MAX_PIECES = 40
MAX_PHOTOS = 40
MAX_MINOR = 2_147_483_647  # what the column holds


class CustomerWanted(msgspec.Struct, frozen=True):
    """A customer of the book by `id`, or the details of a new one."""

    id: UUID | None = None
    name: str = ""
    phone: str = ""
    email: str = ""
    language: str = "en"


class UnitWanted(msgspec.Struct, frozen=True):
    """A unit of the book by `id`, or what is written on a new one."""

    id: UUID | None = None
    model_sheet: UUID | None = None
    make: str = ""
    model: str = ""
    serial: str = ""


class Allowed(msgspec.Struct, frozen=True):
    """What the customer allows. Amounts in minor units of the shop's currency."""

    diagnosis_fee_minor: int = 0
    spending_limit_minor: int = 0
    visible_changes: str = VisibleChanges.ASK.value
    sounds: str = Sounds.NONE.value


class PhotoTaken(msgspec.Struct, frozen=True):
    """A photo by the SHA-256 of its bytes, which may still be on their way."""

    sha256: str
    caption: str = ""


class BookIn(msgspec.Struct, frozen=True, kw_only=True):
    """One booking-in. Voltages in V, frequencies in Hz; `set_for` as found, None if unknown."""

    id: UUID
    customer: CustomerWanted
    unit: UnitWanted
    complaint: str
    last_worked: str = ""
    last_supply: str = ""
    set_for_volt: int | None = None
    set_for_hz: int | None = None
    use_at_country: str
    use_at_volt: int
    use_at_hz: int
    use_at_confirmed: bool = False
    damage: str = ""
    pieces: list[str] = []
    allowed: Allowed = Allowed()
    signature: dict[str, Any] | None = None
    photos: list[PhotoTaken] = []
    due_on: date | None = None

    def content_hash(self) -> str:
        """SHA-256 of all that was sent, so that a repeat is known from a Conflict."""
        return content_hash(msgspec.to_builtins(self))


def check(facts: BookIn) -> None:
    """Refuse what cannot be written down, naming the field. Raises BadField."""
    if not facts.complaint.strip():
        raise BadField(
            "complaint", _("Write down what is wrong, in the customer's words."), "blank"
        )
    if len(facts.pieces) > MAX_PIECES:
        raise BadField("pieces", _("Too many loose pieces for one unit."), "too_many")
    if len(facts.photos) > MAX_PHOTOS:
        raise BadField("photos", _("Too many photos for one booking."), "too_many")
    check_allowed(facts.allowed)
    check_supply(facts)
    require_signature(facts.signature)


def check_allowed(allowed: Allowed) -> None:
    """Amounts are whole, not negative and fit; choices are known ones."""
    for name in ("diagnosis_fee_minor", "spending_limit_minor"):
        if not 0 <= getattr(allowed, name) <= MAX_MINOR:
            raise BadField(f"allowed.{name}", _("This is no amount of money."), "out_of_range")
    for name, choices in (("visible_changes", VisibleChanges), ("sounds", Sounds)):
        if getattr(allowed, name) not in choices.values:
            raise BadField(f"allowed.{name}", _("This is none of the choices."), "invalid_choice")


def check_supply(facts: BookIn) -> None:
    """The supply where the unit will be used must exist there, unless somebody confirmed it."""
    if facts.use_at_confirmed:
        return
    try:
        there = country(CountryIn(facts.use_at_country)).value
    except BadInput as unknown:
        raise BadField("use_at_country", unknown.reason, "unknown_country") from unknown
    if there is None:
        return
    bands = [f"{band.nominal_volt:g} V" for band in there.supplies]
    if not any(b.low_volt <= facts.use_at_volt <= b.high_volt for b in there.supplies):
        raise BadField("use_at_volt", _not_there(there, bands), "supply_not_there")
    if facts.use_at_hz not in there.frequencies:
        names = [f"{one:g} Hz" for one in there.frequencies]
        raise BadField("use_at_hz", _not_there(there, names), "supply_not_there")


def _not_there(there: CountryOut, names: list[str]) -> str:
    return _("%(place)s has %(supplies)s. Confirm it if this is meant all the same.") % {
        "place": there.name,
        "supplies": ", ".join(names),
    }
