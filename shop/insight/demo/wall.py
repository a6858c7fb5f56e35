"""The parts wall with its history: filled once, taken from since, some of it about to run out."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from shop.calc.codes import Kind
from shop.core.models import Person
from shop.insight.demo.fixed import code, id_at
from shop.insight.demo.stock_list import ITEMS, RUNNING_OUT, SUPPLIERS, Item
from shop.repairs.models import Repair
from shop.stock.models import Bin, Move, Part, Place, StockLevel, Supplier
from shop.stock.services import check_reorder


class Taken(NamedTuple):
    """Pieces that went into one repair."""

    repair: Repair
    order_code: str
    quantity: int
    template: str
    by: Person
    at: datetime
    short: int = 0  # pieces the books did not know of


def find_suppliers() -> list[Supplier]:
    return [
        Supplier.objects.create(name=name, email=email, customer_number=number, lead_days=days)
        for name, email, number, days in SUPPLIERS
    ]


def hang_up_parts(at: datetime) -> dict[str, Part]:
    """Every part, by its order code, each with a bin of its own."""
    suppliers = find_suppliers()
    return {item.order_code: _part(item, suppliers, at) for item in ITEMS}


def _part(item: Item, suppliers: list[Supplier], at: datetime) -> Part:
    return Part.objects.create(
        id=id_at(at, item.order_code),
        code=code(Kind.PART, item.order_code),
        name=item.name,
        supplier=suppliers[item.supplier],
        order_code=item.order_code,
        cost_minor=item.cost_minor,
        price_minor=item.price_minor,
        reorder_level=item.reorder_level,
        order_up_to=item.order_up_to,
    )


def fill_bins(parts: dict[str, Part], taken: Iterable[Taken], *, by: Person, at: datetime) -> None:
    """Bins that hold what the list says after all that was taken; each total is its moves' sum."""
    uses = list(taken)
    for place, item in enumerate(ITEMS):
        part = parts[item.order_code]
        row, column = divmod(place, 8)
        bin = Bin.objects.create(
            code=code(Kind.BIN, item.order_code), name=f"{'ABCDEF'[row]}{column + 1}"
        )
        own = [use for use in uses if use.order_code == item.order_code]
        on_hand = RUNNING_OUT.get(item.order_code, item.on_hand)
        bought = on_hand + sum(use.quantity - use.short for use in own)
        Move.objects.bulk_create([_bought(part, bin, bought, by, at), *_moves(part, bin, own)])
        StockLevel.objects.create(part=part, bin=bin, on_hand=on_hand)


def _bought(part: Part, bin: Bin, quantity: int, by: Person, at: datetime) -> Move:
    return Move(
        id=id_at(at, f"bought {part.order_code}"),
        part=part,
        quantity=quantity,
        from_place=Place.SUPPLIER,
        to_place=Place.BIN,
        bin=bin,
        cost_minor=part.cost_minor,
        by=by,
        at=at,
        reason="First filling",
    )


def _moves(part: Part, bin: Bin, uses: list[Taken]) -> list[Move]:
    return [
        Move(
            id=id_at(use.at, f"taken {use.repair.number} {use.order_code}"),
            part=part,
            quantity=use.quantity,
            short=use.short,
            from_place=Place.BIN,
            to_place=Place.REPAIR,
            bin=bin,
            repair=use.repair,
            template=use.template,
            cost_minor=part.cost_minor,
            price_minor=part.price_minor,
            by=use.by,
            at=use.at,
        )
        for use in uses
    ]


def draft_orders(parts: dict[str, Part], order_codes: Iterable[str]) -> None:
    """What the background would have put into the draft orders."""
    for order_code in order_codes:
        check_reorder(part_id=str(parts[order_code].id))
