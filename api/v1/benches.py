"""Benches and meters."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff
from shop.benches.selectors import bench_card, benches


class LampOut(serializers.Serializer[Any]):
    watt = serializers.FloatField()
    volt = serializers.FloatField()


class BenchOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    name = serializers.CharField()
    volt = serializers.IntegerField()
    hz = serializers.IntegerField()
    lamps = LampOut(many=True)


class AccuracyOut(serializers.Serializer[Any]):
    quantity = serializers.CharField()
    percent = serializers.FloatField()
    counts = serializers.FloatField()
    resolution = serializers.FloatField()
    range_end = serializers.FloatField(required=False, allow_null=True)


class MeterOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    code = serializers.CharField()
    name = serializers.CharField()
    kinds = serializers.ListField(child=serializers.CharField())
    due_on = serializers.DateField(allow_null=True)
    state = serializers.ChoiceField(choices=["ok", "overdue", "unknown"])
    accuracy = AccuracyOut(many=True)


class BenchPageOut(serializers.Serializer[Any]):
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = BenchOut(many=True)


class MeterPageOut(serializers.Serializer[Any]):
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = MeterOut(many=True)


def one_page(rows: list[dict[str, Any]]) -> Response:
    """A short list in the shape of all lists: a shop has a handful of these."""
    return Response({"next": None, "previous": None, "results": rows})


class BenchList(APIView):
    permission_classes = [IsStaff]

    @extend_schema(tags=["benches"], responses=BenchPageOut)
    def get(self, request: Request) -> Response:
        return one_page([bench_card(bench) for bench in benches()])
