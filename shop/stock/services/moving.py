"""A move as a person types it: from one place to another, each by its code or word."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.utils.translation import gettext as _

from shop.core.errors import BadField
from shop.core.models import Person
from shop.repairs.models import Repair, Stage
from shop.stock.errors import MoveNotPossible, RepairClosed
from shop.stock.models import Bin, Move, Part, Place
from shop.stock.selectors import bin_or_repair
from shop.stock.services.putting import put_in, return_part, scrap_part
from shop.stock.services.taking import take_part


def move_part(
    *,
    id: UUID,
    part: Part,
    source: str,
    target: str,
    quantity: int,
    by: Person,
    at: datetime,
    reason: str = "",
) -> Move:
    """Make the move. A place is a bin's code, a repair's id or number, `supplier` or `scrap`.

    Raises BadField for a place that is none, MoveNotPossible, RepairClosed and what the single
    moves raise.
    """
    match _place("from", source), _place("to", target):
        case Bin() as bin, Repair() as repair:
            _require_open(repair)
            return take_part(
                id=id, part=part, quantity=quantity, repair=repair, by=by, at=at, bin=bin
            )
        case Repair() as repair, Bin() as bin:
            return return_part(
                id=id,
                part=part,
                quantity=quantity,
                repair=repair,
                by=by,
                at=at,
                bin=bin,
                reason=reason,
            )
        case Place.SUPPLIER, Bin() as bin:
            return put_in(id=id, part=part, bin=bin, quantity=quantity, by=by, at=at, reason=reason)
        case Bin() as bin, Place.SCRAP:
            return scrap_part(
                id=id, part=part, bin=bin, quantity=quantity, by=by, at=at, reason=reason
            )
    raise MoveNotPossible(_("Move between a bin and a repair, from a supplier, or to scrap."))


def _place(field: str, typed: str) -> Bin | Repair | Place:
    if typed in {Place.SUPPLIER, Place.SCRAP}:
        return Place(typed)
    found = bin_or_repair(typed)
    if found is None:
        raise BadField(field, _("No bin and no repair is called so."), "unknown_place")
    return found


def _require_open(repair: Repair) -> None:
    if repair.stage in {Stage.HANDED_BACK, Stage.DISPOSED}:
        raise RepairClosed()
