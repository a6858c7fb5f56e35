"""One change of stock between two places, as a person types or scans it."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from shop.stock.models import Move
from shop.stock.selectors import part_by_code
from shop.stock.services import move_part

PLACE = "a bin's code, a repair's id or number, `supplier` or `scrap`"


class MoveIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    part = serializers.CharField(max_length=40, help_text="tag code or order code")
    quantity = serializers.IntegerField(min_value=1, max_value=100_000)
    reason = serializers.CharField(max_length=200, allow_blank=True, default="")

    def get_fields(self) -> dict[str, Any]:
        """`from` is no name that Python would take for an attribute."""
        return {
            **super().get_fields(),
            "from": serializers.CharField(source="place_from", max_length=40, help_text=PLACE),
            "to": serializers.CharField(source="place_to", max_length=40, help_text=PLACE),
        }


class MoveOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    part = serializers.CharField()
    quantity = serializers.IntegerField()
    short = serializers.IntegerField(help_text="pieces the books did not know of: count the bin")
    bin = serializers.CharField(allow_null=True)
    at = serializers.DateTimeField()


def move_row(move: Move) -> dict[str, Any]:
    return {
        "id": move.id,
        "part": move.part.code,
        "quantity": move.quantity,
        "short": move.short,
        "bin": move.bin_id,
        "at": move.at,
    }


class Moves(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=MoveIn, responses={201: MoveOut})
    def post(self, request: Request) -> Response:
        sent = MoveIn(data=request.data)
        sent.is_valid(raise_exception=True)
        asked = sent.validated_data
        move = move_part(
            id=asked["id"],
            part=part_by_code(asked["part"]),
            source=asked["place_from"],
            target=asked["place_to"],
            quantity=asked["quantity"],
            by=person_of(request),
            at=timezone.now(),
            reason=asked["reason"],
        )
        return Response(move_row(move), status=201)
