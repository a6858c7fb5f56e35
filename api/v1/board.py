"""The manager's first page."""

from __future__ import annotations

from typing import Any

from django.utils import timezone
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsManager
from api.v1.orders import OrderOut
from api.v1.parts import PartOut
from shop.insight.selectors import board
from shop.repairs.models import Stage


class BoardRepairOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    number = serializers.IntegerField()
    unit = serializers.CharField()
    age_days = serializers.IntegerField()
    due_on = serializers.DateField(allow_null=True)
    overdue = serializers.BooleanField()
    why = serializers.CharField(allow_null=True)


class BoardStageOut(serializers.Serializer[Any]):
    stage = serializers.ChoiceField(choices=Stage.choices)
    # Declared through get_fields: a serializer keeps `label` for itself.
    repairs = BoardRepairOut(many=True)

    def get_fields(self) -> dict[str, Any]:
        return {**super().get_fields(), "label": serializers.CharField()}


class StuckRepairOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    number = serializers.IntegerField()
    unit = serializers.CharField()
    stage = serializers.ChoiceField(choices=Stage.choices)
    since = serializers.DateTimeField()
    why = serializers.CharField()


class TurnaroundWeekOut(serializers.Serializer[Any]):
    week = serializers.DateField(help_text="its Monday")
    closed = serializers.IntegerField()
    median_days = serializers.FloatField(allow_null=True)


class TurnaroundOut(serializers.Serializer[Any]):
    median_days = serializers.FloatField(allow_null=True)
    p85_days = serializers.FloatField(allow_null=True)
    text = serializers.CharField()
    closed = serializers.IntegerField()
    open = serializers.IntegerField()
    weeks = TurnaroundWeekOut(many=True)


class PartUsedOut(serializers.Serializer[Any]):
    month = serializers.CharField()
    template = serializers.CharField()
    part = serializers.CharField()
    name = serializers.CharField()
    quantity = serializers.IntegerField()


class BoardOut(serializers.Serializer[Any]):
    stages = BoardStageOut(many=True)
    stuck = StuckRepairOut(many=True)
    turnaround = TurnaroundOut()
    parts_used = PartUsedOut(many=True)
    low_parts = PartOut(many=True)
    orders = OrderOut(many=True)
    stuck_work = serializers.IntegerField()


class BoardView(APIView):
    permission_classes = [IsManager]

    @extend_schema(responses=BoardOut)
    def get(self, request: Request) -> Response:
        return Response(board(now=timezone.now()))
