"""Every calculator at one address each; the list says what it takes and gives."""

from __future__ import annotations

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, inline_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff
from shop.calc.registry import answer_as_json, calculators, work_out
from shop.core.errors import BadField, NotFound


class CalculatorOut(serializers.Serializer[Any]):
    name = serializers.CharField()
    title = serializers.CharField()
    input = serializers.DictField()
    answer = serializers.DictField()


class AnswerOut(serializers.Serializer[Any]):
    outcome = serializers.ChoiceField(choices=["ok", "warn", "refuse", "no_answer"])
    text = serializers.CharField()
    value = serializers.DictField(allow_null=True)
    working = serializers.DictField()


class CalculatorList(APIView):
    """Names, titles and JSON Schemas."""

    permission_classes = [IsStaff]

    @extend_schema(
        responses=inline_serializer("Calculators", {"results": CalculatorOut(many=True)})
    )
    def get(self, request: Request) -> Response:
        found = [
            {"name": one.name, "title": one.title, **one.schemas()}
            for one in calculators().values()
        ]
        return Response({"results": found})


class CalculatorView(APIView):
    """One answer with its working. Input that does not fit names its field."""

    permission_classes = [IsStaff]

    @extend_schema(request=OpenApiTypes.OBJECT, responses=AnswerOut)
    def post(self, request: Request, name: str) -> Response:
        if name not in calculators():
            raise NotFound(name=name)
        if not isinstance(request.data, dict):
            raise BadField("input", "must be a JSON object")
        return Response(answer_as_json(work_out(name, request.data)))
