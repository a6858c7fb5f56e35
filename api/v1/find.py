"""Find anything by any scrap of it."""

from __future__ import annotations

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import (
    OpenApiParameter,
    PolymorphicProxySerializer,
    extend_schema,
    extend_schema_field,
)
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff
from api.scraps import scrap_in
from api.v1.customers import CustomerOut
from api.v1.repair_shapes import RepairRowOut
from api.v1.units import UnitOut
from shop.repairs.selectors import find

SCRAP = OpenApiParameter("q", OpenApiTypes.STR, description="Code, number, name, phone, serial …")


class FoundRepairOut(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=["repair"])
    repair = RepairRowOut()


class FoundCustomerOut(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=["customer"])
    customer = CustomerOut()


class FoundUnitOut(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=["unit"])
    unit = UnitOut()


class FoundOut(serializers.Serializer[Any]):
    results = serializers.SerializerMethodField()

    @extend_schema_field(
        PolymorphicProxySerializer(
            component_name="Found",
            serializers={
                "repair": FoundRepairOut,
                "customer": FoundCustomerOut,
                "unit": FoundUnitOut,
            },
            resource_type_field_name="kind",
            many=True,
        )
    )
    def get_results(self, found: list[Any]) -> list[Any]:
        return found


class FindView(APIView):
    permission_classes = [IsStaff]

    @extend_schema(tags=["find"], parameters=[SCRAP], responses=FoundOut)
    def get(self, request: Request) -> Response:
        """At most 20 repairs, customers and units."""
        return Response({"results": find(scrap_in(request), request.user)})
