"""What hangs on a tag: scan it, or type its code."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import Any

import orjson
from django.http import HttpResponse
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.compressed import json_answer
from api.permissions import IsStaff, person_of
from api.v1.benches import MeterOut
from api.v1.parts import BinOut, PartOut
from api.v1.repair_cards import worksheet_rows
from api.v1.repair_shapes import WorksheetRowOut
from api.v1.units import UnitOut
from shop.benches.models import Meter
from shop.benches.selectors import meter_card
from shop.calc.codes import Kind
from shop.core.models import Person
from shop.core.selectors import today_in_shop
from shop.repairs.selectors import open_repair_of
from shop.stock.models import Bin, Part
from shop.stock.selectors import part_rows, parts_with_stock
from shop.units.errors import UnknownCode
from shop.units.models import Piece, Shelf
from shop.units.selectors import shelf_card, understood_code, unit_card, units_visible_to

KINDS = ["unit", "piece", "bin", "part", "meter", "shelf"]


class ShelfOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    name = serializers.CharField()
    units = UnitOut(many=True)


class CodeOut(serializers.Serializer[Any]):
    """The kind says which of the others is there. A piece comes with its unit."""

    kind = serializers.ChoiceField(choices=KINDS)
    code = serializers.CharField()
    unit = UnitOut(required=False)
    repair = serializers.UUIDField(required=False, allow_null=True)
    worksheets = WorksheetRowOut(many=True, required=False)
    part = PartOut(required=False)
    bin = BinOut(required=False)
    parts = PartOut(many=True, required=False, help_text="what lies in the bin")
    meter = MeterOut(required=False)
    shelf = ShelfOut(required=False)


class KnownCodeOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    kind = serializers.ChoiceField(choices=KINDS)
    name = serializers.CharField()


class KnownCodesOut(serializers.Serializer[Any]):
    codes = KnownCodeOut(many=True)


class KnownCodes(APIView):
    """The codes of the shop's own things, for phones to keep. An unchanged list costs no bytes."""

    permission_classes = [IsStaff]

    @extend_schema(
        tags=["codes"], operation_id="codes_list_known", responses={200: KnownCodesOut, 304: None}
    )
    def get(self, request: Request) -> HttpResponse:
        """Bins, parts, meters and shelves with their names: no stock, no unit and no customer."""
        content = orjson.dumps({"codes": _known_codes()})
        etag = f'"{hashlib.sha256(content).hexdigest()[:32]}"'
        if etag in request.META.get("HTTP_IF_NONE_MATCH", ""):
            answer = HttpResponse(status=304)
        else:
            answer = json_answer(request, content)
        answer["ETag"], answer["Cache-Control"] = etag, "private, no-cache"
        return answer


def _known_codes() -> list[dict[str, str]]:
    named: list[tuple[str, Any]] = [
        ("bin", Bin.objects.values_list("code", "name")),
        ("part", Part.objects.values_list("code", "name")),
        ("meter", Meter.objects.values_list("code", "name")),
        ("shelf", Shelf.objects.values_list("code", "name")),
    ]
    return [
        {"code": code, "kind": kind, "name": name}
        for kind, rows in named
        for code, name in rows.order_by("code")
    ]


class CodeView(APIView):
    permission_classes = [IsStaff]

    @extend_schema(tags=["codes"], responses=CodeOut)
    def get(self, request: Request, code: str) -> Response:
        """A slip is caught by the check character (400 `bad_code`) before anything is looked up."""
        read = understood_code(code)
        found = LOOKUPS[read.kind](read.text, person_of(request))
        if found is None:
            raise UnknownCode()
        return Response({"code": read.text, **found})


def _unit(code: str, person: Person) -> dict[str, Any] | None:
    unit = units_visible_to(person).filter(code=code).first()
    if unit is None:
        return None
    repair = open_repair_of(unit)
    return {
        "kind": "unit",
        "unit": unit_card(unit),
        "repair": repair and repair.id,
        "worksheets": worksheet_rows(repair, person) if repair else [],
    }


def _piece(code: str, person: Person) -> dict[str, Any] | None:
    unit_code = Piece.objects.filter(code=code).values_list("unit__code", flat=True).first()
    found = _unit(unit_code, person) if unit_code else None
    return found and {**found, "kind": "piece"}


def _shelf(code: str, person: Person) -> dict[str, Any] | None:
    shelf = Shelf.objects.filter(code=code).first()
    if shelf is None:
        return None
    units = units_visible_to(person).filter(shelf=shelf).order_by("make", "model", "code")
    return {"kind": "shelf", "shelf": shelf_card(shelf, units)}


def _meter(code: str, person: Person) -> dict[str, Any] | None:
    meter = Meter.objects.filter(code=code).first()
    return {"kind": "meter", "meter": meter_card(meter, today_in_shop())} if meter else None


def _part(code: str, person: Person) -> dict[str, Any] | None:
    rows = part_rows(parts_with_stock().filter(code=code))
    return {"kind": "part", "part": rows[0]} if rows else None


def _bin(code: str, person: Person) -> dict[str, Any] | None:
    found = Bin.objects.filter(code=code).first()
    if found is None:
        return None
    on_hand = sum(found.levels.values_list("on_hand", flat=True))
    parts = part_rows(parts_with_stock().filter(levels__bin=found))
    return {
        "kind": "bin",
        "bin": {"code": code, "name": found.name, "on_hand": on_hand},
        "parts": parts,
    }


LOOKUPS: dict[Kind, Callable[[str, Person], dict[str, Any] | None]] = {
    Kind.UNIT: _unit,
    Kind.PIECE: _piece,
    Kind.SHELF: _shelf,
    Kind.METER: _meter,
    Kind.PART: _part,
    Kind.BIN: _bin,
}
