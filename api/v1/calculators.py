"""Every calculator at one address each; the list says what it takes and gives."""

from __future__ import annotations

import gzip
from functools import cache
from hashlib import sha256
from typing import Any, NamedTuple

import msgspec
from django.http import HttpResponse
from django.utils.cache import patch_vary_headers
from django.utils.translation import get_language, gettext
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, inline_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.compressed import json_answer
from api.permissions import IsStaff
from shop.calc.also_called import also_called
from shop.calc.areas import AREAS, area_of, key_of
from shop.calc.registry import Calculator, answer_as_json, calculators, work_out
from shop.calc.schemas import spoken, with_units
from shop.core.errors import BadField, NotFound


class AreaOut(serializers.Serializer[Any]):
    key = serializers.CharField()
    title = serializers.CharField()


class CalculatorOut(serializers.Serializer[Any]):
    """`question` is what a tech would ask; `example` answers it; `words` are searched too."""

    name = serializers.CharField()
    title = serializers.CharField()
    area = AreaOut()
    question = serializers.CharField()
    words = serializers.CharField()
    example = serializers.DictField()
    input = serializers.DictField()
    answer = serializers.DictField()


class AnswerOut(serializers.Serializer[Any]):
    outcome = serializers.ChoiceField(choices=["ok", "warn", "refuse", "no_answer"])
    text = serializers.CharField()
    value = serializers.DictField(allow_null=True)
    working = serializers.DictField()


class CalculatorList(APIView):
    """Every calculator by area, with its question, a worked case and JSON Schemas.

    In the reader's language. It changes with the program only: ask again with `If-None-Match`.
    """

    permission_classes = [IsStaff]

    @extend_schema(
        responses={
            200: inline_serializer("Calculators", {"results": CalculatorOut(many=True)}),
            304: None,
        }
    )
    def get(self, request: Request) -> HttpResponse:
        kept = _list_in(get_language() or "en")
        if kept.etag in request.META.get("HTTP_IF_NONE_MATCH", ""):
            answer = HttpResponse(status=304)
        else:
            answer = json_answer(request, kept.plain, kept.packed)
        answer["ETag"], answer["Cache-Control"] = kept.etag, "private, no-cache"
        patch_vary_headers(answer, ("Accept-Encoding", "Accept-Language"))
        return answer


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


class _List(NamedTuple):
    plain: bytes
    packed: bytes
    etag: str


@cache
def _list_in(language: str) -> _List:
    """The list as it goes out, made once per process and language."""
    rows = [_row(one) for one in sorted(calculators().values(), key=_place)]
    plain = msgspec.json.encode({"results": rows})
    return _List(plain, gzip.compress(plain, mtime=0), f'"{sha256(plain).hexdigest()}"')


def _place(one: Calculator) -> tuple[int, str]:
    return list(AREAS).index(key_of(one.name)), one.name


def _row(one: Calculator) -> dict[str, Any]:
    schemas = one.schemas()
    return {
        "name": one.name,
        "title": gettext(one.title),
        "area": {"key": key_of(one.name), "title": gettext(area_of(one.name))},
        "question": one.question and gettext(one.question),
        "words": also_called(one.name),
        "example": one.example,
        "input": spoken(schemas["input"], gettext),
        "answer": spoken(with_units(schemas["answer"]), gettext),
    }
