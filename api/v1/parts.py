"""Parts: what lies where, and what is on its way. And what was counted in a bin."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.pagination import NewestFirst
from api.permissions import IsStaff, person_of
from api.scraps import scrap_in
from shop.stock.selectors import (
    PartRow,
    bin_by_code,
    part_by_code,
    part_rows,
    parts_with_stock,
)
from shop.stock.services import count_bin


class BinOut(serializers.Serializer[Any]):
    code = serializers.CharField()
    name = serializers.CharField()
    on_hand = serializers.IntegerField()


class PartOut(serializers.Serializer[PartRow]):
    id = serializers.UUIDField()
    code = serializers.CharField()
    name = serializers.CharField()
    order_code = serializers.CharField()
    unit_price_minor = serializers.IntegerField()
    on_hand = serializers.IntegerField()
    reserved = serializers.IntegerField()
    on_order = serializers.IntegerField()
    reorder_level = serializers.IntegerField()
    order_up_to = serializers.IntegerField()
    supplier_name = serializers.CharField()
    bins = BinOut(many=True)


class PartsPage(serializers.Serializer[Any]):
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = PartOut(many=True)


SEARCH = OpenApiParameter("q", str, description="name, code, order code or bin")


class Parts(APIView):
    """The parts wall, newest part first."""

    permission_classes = [IsStaff]

    @extend_schema(operation_id="parts_list", parameters=[SEARCH], responses=PartsPage)
    def get(self, request: Request) -> Response:
        pages = NewestFirst()
        found = parts_with_stock(search=scrap_in(request))
        page = pages.paginate_queryset(found, request, self)
        return pages.get_paginated_response(part_rows(page or []))


class PartDetail(APIView):
    permission_classes = [IsStaff]

    @extend_schema(operation_id="parts_retrieve", responses=PartOut)
    def get(self, request: Request, id: UUID) -> Response:
        rows = part_rows(parts_with_stock().filter(id=id))
        if not rows:
            raise Http404
        return Response(rows[0])


class CountIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    part = serializers.CharField(max_length=40)
    bin = serializers.CharField(max_length=12)
    counted = serializers.IntegerField(min_value=0, max_value=100_000)
    reason = serializers.CharField(max_length=200, allow_blank=True, default="")


class Counts(APIView):
    """What a person counted in a bin; the books follow."""

    permission_classes = [IsStaff]

    @extend_schema(request=CountIn, responses=PartOut)
    def post(self, request: Request) -> Response:
        sent = CountIn(data=request.data)
        sent.is_valid(raise_exception=True)
        asked = sent.validated_data
        part = part_by_code(asked["part"])
        count_bin(
            id=asked["id"],
            part=part,
            bin=bin_by_code(asked["bin"]),
            counted=asked["counted"],
            by=person_of(request),
            at=timezone.now(),
            reason=asked["reason"],
        )
        return Response(part_rows(parts_with_stock().filter(id=part.id))[0])
