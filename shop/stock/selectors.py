"""Reads of the stock."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any, TypedDict
from uuid import UUID

from django.db.models import (
    Case,
    F,
    IntegerField,
    OuterRef,
    Q,
    QuerySet,
    Subquery,
    Sum,
    Value,
    When,
)
from django.db.models.functions import Coalesce
from django.utils.translation import gettext as _

from shop.calc import reorder
from shop.calc.codes import normalise
from shop.core.errors import BadField
from shop.repairs.models import Repair
from shop.stock.errors import NoSuchPart, NotTaken
from shop.stock.models import Bin, Move, OrderLine, Part, Place, PurchaseOrder, StockLevel

ON_ORDER = [PurchaseOrder.Stage.APPROVED, PurchaseOrder.Stage.SENT]


def part_by_code(typed: str) -> Part:
    """The part with this tag code or, for templates, this supplier's order code.

    Raises NoSuchPart.
    """
    found = Part.objects.filter(Q(code=normalise(typed)) | Q(order_code=typed)).first()
    if found is None:
        raise NoSuchPart(_("No part is called %(code)s.") % {"code": typed}, part=typed)
    return found


def bin_by_code(typed: str, field: str = "bin") -> Bin:
    """The bin with this code. Raises BadField."""
    found = Bin.objects.filter(code=normalise(typed)).first()
    if found is None:
        raise BadField(field, _("No bin has this code."), "unknown_bin")
    return found


def fullest_level(*, part: Part, bin: Bin | None = None) -> StockLevel | None:
    """The level in the named bin, else the one with most free pieces."""
    levels = StockLevel.objects.filter(part=part).select_related("bin")
    if bin is not None:
        return levels.filter(bin=bin).first()
    return levels.order_by(F("reserved") - F("on_hand"), "bin_id").first()


def usual_bin(*, part: Part, repair: Repair) -> Bin:
    """Where a returned piece belongs: the bin it came from, else one that holds its like."""
    taken = Bin.objects.filter(moves__part=part, moves__repair=repair).order_by("-moves__at")
    if last := taken.first():
        return last
    level = fullest_level(part=part)
    if level is None:
        raise NotTaken(_("This part has no bin yet. Name the bin."))
    return level.bin


def template_taken_for(*, part: Part, repair: Repair) -> str:
    """The job template for which pieces of this part were last taken."""
    taken = Move.objects.filter(part=part, repair=repair, to_place=Place.REPAIR)
    return taken.order_by("-at").values_list("template", flat=True).first() or ""


def pieces_in_repair(*, part: Part, repair: Repair) -> int:
    """Pieces taken for a repair and not returned."""
    signed = Case(When(to_place=Place.REPAIR, then=F("quantity")), default=-F("quantity"))
    moves = Move.objects.filter(part=part, repair=repair)
    return int(moves.aggregate(total=Coalesce(Sum(signed), 0))["total"])


def bin_or_repair(typed: str) -> Bin | Repair | None:
    """A bin by its code, a repair by its id or number."""
    if found := Bin.objects.filter(code=normalise(typed)).first():
        return found
    if typed.isdecimal():
        return Repair.objects.filter(number=int(typed)).first()
    try:
        return Repair.objects.filter(id=UUID(typed)).first()
    except ValueError:
        return None


def parts_with_stock(*, search: str = "") -> QuerySet[Part]:
    """Parts with `on_hand`, `reserved` and `on_order`, each one sum."""
    parts = Part.objects.select_related("supplier").annotate(
        on_hand=_sum(StockLevel.objects.all(), "on_hand"),
        reserved=_sum(StockLevel.objects.all(), "reserved"),
        on_order=_sum(OrderLine.objects.filter(order__stage__in=ON_ORDER), _still_to_come()),
    )
    words = search.split()
    for word in words:
        parts = parts.filter(
            Q(name__icontains=word)
            | Q(order_code__icontains=word)
            | Q(code__istartswith=word)
            | Q(levels__bin__name__icontains=word)
            | Q(levels__bin__code__istartswith=word)
        )
    return parts.distinct() if words else parts


def low_parts() -> QuerySet[Part]:
    """Parts whose inventory position is at or below their reorder level."""
    position = F("on_hand") + F("on_order") - F("reserved")
    rows: Any = parts_with_stock().filter(order_up_to__gt=0)  # mypy cannot see its annotations
    low: QuerySet[Part] = rows.annotate(position=position).filter(position__lte=F("reorder_level"))
    return low.order_by("name")


def _still_to_come() -> Case:
    # More may arrive than was ordered; that is no negative order.
    return Case(
        When(received__lt=F("quantity"), then=F("quantity") - F("received")), default=Value(0)
    )


def _sum(rows: QuerySet[Any], what: str | Case) -> Coalesce:
    total = rows.filter(part=OuterRef("pk")).order_by().values("part").annotate(total=Sum(what))
    return Coalesce(Subquery(total.values("total"), output_field=IntegerField()), 0)


def inventory_position(part: Part) -> int:
    """On hand + on order (approved or sent) - reserved."""
    row = part_rows(parts_with_stock().filter(id=part.id))[0]
    return reorder.inventory_position(row["on_hand"], row["on_order"], row["reserved"])


class BinRow(TypedDict):
    code: str
    name: str
    on_hand: int


class PartRow(TypedDict):
    id: UUID
    code: str
    name: str
    order_code: str
    unit_price_minor: int
    on_hand: int
    reserved: int
    on_order: int
    reorder_level: int
    order_up_to: int
    supplier_name: str
    bins: list[BinRow]


def part_rows(parts: Iterable[Part]) -> list[PartRow]:
    """Parts (from `parts_with_stock`) as the screens show them, with two queries in all."""
    found = list(parts)
    bins: dict[UUID, list[BinRow]] = {part.id: [] for part in found}
    levels = StockLevel.objects.filter(part_id__in=bins).order_by("bin__name")
    for part_id, code, name, on_hand in levels.values_list(
        "part_id", "bin_id", "bin__name", "on_hand"
    ):
        bins[part_id].append({"code": code, "name": name, "on_hand": on_hand})
    return [_part_row(part, bins[part.id]) for part in found]


def _part_row(part: Part, bins: list[BinRow]) -> PartRow:
    row: Any = part  # with sums that mypy cannot see
    return {
        "id": part.id,
        "code": part.code,
        "name": part.name,
        "order_code": part.order_code,
        "unit_price_minor": part.price_minor,
        "reorder_level": part.reorder_level,
        "order_up_to": part.order_up_to,
        "supplier_name": part.supplier.name,
        "bins": bins,
        "on_hand": row.on_hand,
        "reserved": row.reserved,
        "on_order": row.on_order,
    }


def orders_with_lines() -> QuerySet[PurchaseOrder]:
    """Orders, newest first, with supplier and lines at hand."""
    orders = PurchaseOrder.objects.select_related("supplier").order_by("-number")
    return orders.prefetch_related("lines__part")


def orders_under_way() -> QuerySet[PurchaseOrder]:
    """What the manager still has to look after."""
    return orders_with_lines().filter(stage__in=[PurchaseOrder.Stage.DRAFT, *ON_ORDER])


class OrderLineRow(TypedDict):
    part: str
    name: str
    quantity: int
    received: int
    price_minor: int


class OrderRow(TypedDict):
    id: UUID
    number: int
    supplier: str
    stage: str
    lines: list[OrderLineRow]
    total_minor: int
    created_at: datetime
    sent_at: datetime | None


def order_row(order: PurchaseOrder) -> OrderRow:
    """An order (from `orders_with_lines`) as the screens show it; prices are what it costs us."""
    lines = [_line_row(line) for line in order.lines.all()]
    return {
        "id": order.id,
        "number": order.number,
        "supplier": order.supplier.name,
        "stage": order.stage,
        "lines": lines,
        "total_minor": sum(line["quantity"] * line["price_minor"] for line in lines),
        "created_at": order.created_at,
        "sent_at": order.sent_at,
    }


def _line_row(line: OrderLine) -> OrderLineRow:
    return {
        "part": line.part.code,
        "name": line.part.name,
        "quantity": line.quantity,
        "received": line.received,
        "price_minor": line.cost_minor,
    }


class WrongLevel(TypedDict):
    part: str
    bin: str
    on_hand: int
    moves: int


def check_levels() -> list[WrongLevel]:
    """Levels that differ from the sum of their moves. Empty when the books are sound."""
    kept = {
        (part, bin): on_hand
        for part, bin, on_hand in StockLevel.objects.values_list("part__code", "bin_id", "on_hand")
    }
    summed = _sums_of_moves()
    return [
        {"part": part, "bin": bin, "on_hand": kept.get((part, bin), 0), "moves": total}
        for part, bin in sorted(kept | summed)
        if kept.get((part, bin), 0) != (total := summed.get((part, bin), 0))
    ]


def _sums_of_moves() -> dict[tuple[str, str], int]:
    """Pieces per part and bin as the moves tell. Short pieces never were in the books."""
    signed = Case(When(to_place=Place.BIN, then=F("quantity")), default=F("short") - F("quantity"))
    moves = Move.objects.filter(bin__isnull=False).order_by()
    rows = moves.values_list("part__code", "bin_id").annotate(total=Sum(signed))
    return {(part, bin): total for part, bin, total in rows if bin is not None}
