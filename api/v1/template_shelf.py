"""The shelf of job templates, and the life of a published one: its revisions, retired or not."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import get_language
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsBench, IsManager, IsStaff, person_of
from api.v1.template_shapes import (
    BetweenIn,
    DifferenceOut,
    FormIn,
    RetireIn,
    RevisionFullOut,
    RevisionOut,
    ShelfRowOut,
    changes_between,
)
from shop.jobs.models import JobTemplate
from shop.jobs.selectors import (
    revision_of,
    revision_row,
    revision_rows,
    shelf_rows,
    template_file,
)
from shop.jobs.services import bring_back_template, retire_template


class TemplateShelf(APIView):
    permission_classes = [IsBench]

    @extend_schema(responses=ShelfRowOut(many=True))
    def get(self, request: Request) -> Response:
        """Every template, also those that are retired, and the drafts of each."""
        return Response(shelf_rows(get_language() or "en"))


class Revisions(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=RevisionOut(many=True))
    def get(self, request: Request, slug: str) -> Response:
        """Every revision, newest first, with who reviewed and published it."""
        rows = revision_rows(slug)
        if not rows:
            revision_of(slug)  # says that there is no such template
        return Response(rows)


class RevisionDetail(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=RevisionFullOut)
    def get(self, request: Request, slug: str, number: int) -> Response:
        revision = revision_of(slug, number)
        return Response({**revision_row(revision), "body": revision.body})


class Difference(APIView):
    permission_classes = [IsStaff]

    @extend_schema(parameters=[BetweenIn], responses=DifferenceOut)
    def get(self, request: Request, slug: str) -> Response:
        """What changed from one revision to another, in sentences."""
        sent = BetweenIn(data=request.query_params)
        sent.is_valid(raise_exception=True)
        before = revision_of(slug, sent.validated_data["from"])
        after = revision_of(slug, sent.validated_data["to"])
        return Response(changes_between(before.body, after.body))


class FileOfTemplate(APIView):
    permission_classes = [IsStaff]

    @extend_schema(
        parameters=[FormIn],
        responses={
            (200, "application/yaml"): OpenApiTypes.OBJECT,
            (200, "application/json"): OpenApiTypes.OBJECT,
        },
    )
    def get(self, request: Request, slug: str) -> HttpResponse:
        """The newest revision as one file, with its pictures and the templates it works."""
        sent = FormIn(data=request.query_params)
        sent.is_valid(raise_exception=True)
        form: str = sent.validated_data["form"]
        content = template_file(revision_of(slug), form)
        answer = HttpResponse(content, content_type=f"application/{form}")
        answer["Content-Disposition"] = f'attachment; filename="{slug}.{form}"'
        return answer


class RetireTemplate(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=RetireIn, responses={204: None})
    def post(self, request: Request, slug: str) -> Response:
        """No worksheet is started from it any more; those begun go on."""
        sent = RetireIn(data=request.data)
        sent.is_valid(raise_exception=True)
        reason: str = sent.validated_data["reason"]
        retire_template(template=_template(slug), reason=reason, by=person_of(request))
        return Response(status=204)


class BringBackTemplate(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=None, responses={204: None})
    def post(self, request: Request, slug: str) -> Response:
        bring_back_template(template=_template(slug))
        return Response(status=204)


def _template(slug: str) -> JobTemplate:
    return get_object_or_404(JobTemplate, slug=slug)
