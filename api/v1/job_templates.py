"""Published job templates, files taken in as drafts, and the published schemas."""

from __future__ import annotations

from typing import Any

from django.utils.translation import get_language
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsBench, IsStaff, person_of
from api.v1.template_shapes import DraftShortOut
from shop.core.errors import NotFound
from shop.jobs.format.revisions import FindProcedure, remembered
from shop.jobs.format.schemas import published_schema
from shop.jobs.format.texts import in_language
from shop.jobs.models import Revision
from shop.jobs.packing.asking import questions_of
from shop.jobs.selectors import (
    draft_short,
    find_procedure,
    published_revision,
    published_revisions,
)
from shop.jobs.services import import_file


class FactOut(serializers.Serializer[Any]):
    """One question that is asked when a worksheet starts."""

    key = serializers.CharField()
    title = serializers.CharField()
    text = serializers.CharField(allow_blank=True)
    quantity = serializers.CharField(allow_null=True)
    choices = serializers.ListField(child=serializers.DictField(), allow_null=True)
    names = serializers.BooleanField(help_text="A list of names, typed with commas between.")
    required = serializers.BooleanField()  # type: ignore[assignment]  # Field has one too

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        # `from` is a word of Python's own. It says where an empty answer is taken from.
        return super().get_fields() | {"from": serializers.CharField(allow_null=True)}


class JobTemplateOut(serializers.Serializer[Any]):
    slug = serializers.CharField()
    title = serializers.CharField()
    summary = serializers.CharField()
    minutes = serializers.IntegerField()
    role = serializers.ChoiceField(choices=["tech", "manager"])
    revision = serializers.IntegerField()
    parts = serializers.ListField(child=serializers.CharField())
    facts = FactOut(many=True)


class JobTemplateFileIn(serializers.Serializer[Any]):
    """The text of a template file, as it is, so that faults can name their line."""

    content = serializers.CharField(max_length=7_000_000, trim_whitespace=False)

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        # `as` is a word of Python's own. A change becomes a draft of the template of that slug.
        how = serializers.ChoiceField(choices=["new", "change"], default="new")
        return super().get_fields() | {"as": how}


class FileTakenOut(serializers.Serializer[Any]):
    """What became of a file. `unchanged` are slugs whose published content is the same."""

    drafts = DraftShortOut(many=True)
    unchanged = serializers.ListField(child=serializers.CharField())


class JobTemplateFullOut(JobTemplateOut):
    body = serializers.DictField()


def template_row(revision: Revision, language: str, find: FindProcedure) -> dict[str, Any]:
    """A template as it is offered, with all that it and its procedures ask."""
    body = revision.body
    return {
        "slug": revision.template_id,
        "title": in_language(body["title"], language),
        "summary": in_language(body["summary"], language),
        "minutes": body["minutes"],
        "role": body["role"],
        "revision": revision.number,
        "parts": [p.get("order_code") or p["key"] for p in body.get("parts", [])],
        "facts": [_fact(fact, language) for fact in questions_of(body, find)],
    }


def _fact(fact: dict[str, Any], language: str) -> dict[str, Any]:
    choices = fact.get("choices")
    return {
        "key": fact["key"],
        "title": in_language(fact["title"], language),
        "text": in_language(fact.get("text"), language),
        "quantity": fact.get("quantity"),
        "choices": choices
        and [{"key": c["key"], "label": in_language(c["label"], language)} for c in choices],
        "names": fact.get("names", False),
        "required": fact.get("required", False),
        "from": fact.get("from"),
    }


class JobTemplates(APIView):
    def get_permissions(self) -> list[Any]:
        return [IsBench()] if self.request.method == "POST" else [IsStaff()]

    @extend_schema(responses=JobTemplateOut(many=True))
    def get(self, request: Request) -> Response:
        language = get_language() or "en"
        find = remembered(find_procedure)
        rows = [template_row(revision, language, find) for revision in published_revisions()]
        return Response(rows)

    @extend_schema(request=JobTemplateFileIn, responses={200: FileTakenOut, 201: FileTakenOut})
    def post(self, request: Request) -> Response:
        """Make drafts of a file. Nothing that is there is overwritten."""
        sent = JobTemplateFileIn(data=request.data)
        sent.is_valid(raise_exception=True)
        taken = import_file(
            content=sent.validated_data["content"].encode(),
            by=person_of(request),
            as_change=sent.validated_data["as"] == "change",
        )
        row = {"drafts": list(map(draft_short, taken.drafts)), "unchanged": taken.unchanged}
        return Response(row, status=201 if taken.drafts else 200)


class JobTemplateDetail(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=JobTemplateFullOut)
    def get(self, request: Request, slug: str) -> Response:
        revision = published_revision(slug)
        row = template_row(revision, get_language() or "en", find_procedure)
        return Response({**row, "body": revision.body})


class SchemaFile(APIView):
    """The published JSON Schemas of job templates and packs."""

    permission_classes = [AllowAny]

    @extend_schema(responses={200: dict[str, Any]})
    def get(self, request: Request, name: str) -> Response:
        try:
            return Response(published_schema(name))
        except KeyError as error:
            raise NotFound() from error
