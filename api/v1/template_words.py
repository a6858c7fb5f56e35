"""What a template can name: facts, quantities, kinds of meters and of steps, in words."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsBench
from shop.benches.models import MeterKind
from shop.jobs.format.words import facts_in_words, kinds_in_words, quantities_in_words


class NamedOut(serializers.Serializer[Any]):
    key = serializers.CharField()
    title = serializers.CharField()


class ChoiceWordsOut(serializers.Serializer[Any]):
    key = serializers.JSONField()
    title = serializers.CharField()


class FactOfRowOut(serializers.Serializer[Any]):
    """A fact with its path. A number has `unit` and, where a reading compares, `quantity`."""

    path = serializers.CharField()
    title = serializers.CharField()
    type = serializers.ChoiceField(choices=["number", "text", "yes_no", "choice", "list", "object"])
    unit = serializers.CharField(required=False, allow_blank=True)
    quantity = serializers.CharField(required=False, allow_null=True)
    choices = ChoiceWordsOut(many=True, required=False, allow_null=True)


class FactWordsOut(FactOfRowOut):
    """`rows` of a list are what each of its rows has; their paths begin with the list's."""

    rows = FactOfRowOut(many=True, required=False)


class QuantityOut(NamedOut):
    unit = serializers.CharField()
    symbol = serializers.CharField(allow_blank=True)


class TemplateWordsOut(serializers.Serializer[Any]):
    facts = FactWordsOut(many=True)
    quantities = QuantityOut(many=True)
    meter_kinds = NamedOut(many=True)
    kinds = NamedOut(many=True)


class TemplateWords(APIView):
    permission_classes = [IsBench]

    @extend_schema(responses=TemplateWordsOut)
    def get(self, request: Request) -> Response:
        meters = [{"key": kind.value, "title": str(kind.label)} for kind in MeterKind]
        return Response(
            {
                "facts": facts_in_words(),
                "quantities": quantities_in_words(),
                "meter_kinds": meters,
                "kinds": kinds_in_words(),
            }
        )
