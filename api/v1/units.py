"""Units: what they are, where they stand, whether they may be powered."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from api.permissions import IsBench, IsStaff, person_of
from shop.repairs.services import set_unit_power
from shop.units.models import Piece, Unit
from shop.units.selectors import unit_card, units_visible_to
from shop.units.services import place_unit


class HazardOut(serializers.Serializer[Any]):
    key = serializers.CharField()
    text = serializers.CharField()


class PlaceOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    name = serializers.CharField()


class PieceOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    name = serializers.CharField()
    state = serializers.ChoiceField(choices=Piece.State.choices)


class UnitOut(serializers.Serializer[Any]):
    """The shape of `unit_card`."""

    id = serializers.UUIDField()
    code = serializers.CharField()
    make = serializers.CharField()
    model = serializers.CharField()
    serial = serializers.CharField(allow_blank=True)
    model_sheet = serializers.UUIDField(allow_null=True)
    hazards = HazardOut(many=True)
    set_for_volt = serializers.IntegerField(allow_null=True)
    place = PlaceOut(allow_null=True)
    do_not_power = serializers.BooleanField()
    pieces = PieceOut(many=True)


class PlaceIn(serializers.Serializer[Any]):
    shelf = serializers.CharField(max_length=200, help_text="A shelf's code, typed or scanned.")


class PowerIn(serializers.Serializer[Any]):
    cleared = serializers.BooleanField()
    reason = serializers.CharField(max_length=200)


@extend_schema(tags=["units"])
class UnitViewSet(GenericViewSet[Unit]):
    """Units are made by booking in; here they are looked at, moved and cleared."""

    permission_classes = [IsStaff]
    serializer_class = UnitOut
    lookup_value_converter = "uuid"
    queryset = Unit.objects.none()

    def get_permissions(self) -> list[BasePermission]:
        return [IsBench()] if self.action == "power" else [IsStaff()]

    def get_queryset(self) -> QuerySet[Unit]:
        return units_visible_to(self.request.user)

    @extend_schema(responses=UnitOut)
    def retrieve(self, request: Request, pk: Any = None) -> Response:
        return Response(unit_card(self.get_object()))

    @extend_schema(request=PlaceIn, responses=UnitOut)
    @action(detail=True, methods=["post"])
    def place(self, request: Request, pk: Any = None) -> Response:
        """Scan the unit, scan the shelf: where it stands now."""
        sent = PlaceIn(data=request.data)
        sent.is_valid(raise_exception=True)
        unit = place_unit(
            unit=self.get_object(), shelf_code=sent.validated_data["shelf"], by=person_of(request)
        )
        return Response(unit_card(unit))

    @extend_schema(request=PowerIn, responses=UnitOut)
    @action(detail=True, methods=["post"])
    def power(self, request: Request, pk: Any = None) -> Response:
        """A tech says that it may be powered, or that it must not."""
        sent = PowerIn(data=request.data)
        sent.is_valid(raise_exception=True)
        unit = set_unit_power(unit=self.get_object(), by=person_of(request), **sent.validated_data)
        return Response(unit_card(unit))
