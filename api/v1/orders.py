"""Orders to suppliers: drafted in the background, approved by the manager, received at the desk."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404
from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.pagination import ByCursor
from api.permissions import IsManager, IsStaff, person_of
from shop.stock.models import PurchaseOrder
from shop.stock.selectors import (
    OrderLineRow,
    OrderRow,
    bin_by_code,
    order_row,
    orders_with_lines,
    part_by_code,
)
from shop.stock.services import ReceivedLine, approve_order, drop_order, receive_order


class OrderLineOut(serializers.Serializer[OrderLineRow]):
    part = serializers.CharField()
    name = serializers.CharField()
    quantity = serializers.IntegerField()
    received = serializers.IntegerField()
    price_minor = serializers.IntegerField()


class OrderOut(serializers.Serializer[OrderRow]):
    id = serializers.UUIDField()
    number = serializers.IntegerField()
    supplier = serializers.CharField()
    stage = serializers.ChoiceField(choices=PurchaseOrder.Stage.choices)
    lines = OrderLineOut(many=True)
    total_minor = serializers.IntegerField()
    created_at = serializers.DateTimeField()
    sent_at = serializers.DateTimeField(allow_null=True)


class OrdersPage(serializers.Serializer[Any]):
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = OrderOut(many=True)


class ReceivedLineIn(serializers.Serializer[Any]):
    part = serializers.CharField(max_length=40)
    quantity = serializers.IntegerField(min_value=1, max_value=100_000)
    bin = serializers.CharField(max_length=12)


class ReceiveIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    lines = ReceivedLineIn(many=True, allow_empty=False)


class ByNumber(ByCursor):
    page_size = 50
    ordering = ("-number",)


def _order(id: UUID) -> PurchaseOrder:
    found = orders_with_lines().filter(id=id).first()
    if found is None:
        raise Http404
    return found


class Orders(APIView):
    permission_classes = [IsStaff]

    @extend_schema(operation_id="orders_list", responses=OrdersPage)
    def get(self, request: Request) -> Response:
        pages = ByNumber()
        page = pages.paginate_queryset(orders_with_lines(), request, self) or []
        return pages.get_paginated_response([order_row(order) for order in page])


class OrderDetail(APIView):
    permission_classes = [IsStaff]

    @extend_schema(operation_id="orders_retrieve", responses=OrderOut)
    def get(self, request: Request, id: UUID) -> Response:
        return Response(order_row(_order(id)))


class ApproveOrder(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=None, responses=OrderOut)
    def post(self, request: Request, id: UUID) -> Response:
        approve_order(order=_order(id), by=person_of(request), at=timezone.now())
        return Response(order_row(_order(id)))


class DropOrder(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=None, responses=OrderOut)
    def post(self, request: Request, id: UUID) -> Response:
        drop_order(order=_order(id), by=person_of(request))
        return Response(order_row(_order(id)))


class ReceiveOrder(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=ReceiveIn, responses=OrderOut)
    def post(self, request: Request, id: UUID) -> Response:
        sent = ReceiveIn(data=request.data)
        sent.is_valid(raise_exception=True)
        lines: list[ReceivedLine] = [
            {
                "part": part_by_code(line["part"]),
                "quantity": line["quantity"],
                "bin": bin_by_code(line["bin"], f"lines[{place}].bin"),
            }
            for place, line in enumerate(sent.validated_data["lines"])
        ]
        receive_order(
            id=sent.validated_data["id"],
            order=_order(id),
            lines=lines,
            by=person_of(request),
            at=timezone.now(),
        )
        return Response(order_row(_order(id)))
