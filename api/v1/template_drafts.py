"""Drafts of job templates: written, tried, reviewed by somebody else, published."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.etag import version_wanted, with_etag
from api.permissions import IsBench, IsManager, person_of
from api.proving import signer
from api.v1.template_shapes import (
    BeginIn,
    BodyIn,
    DifferenceOut,
    DraftOut,
    NoteIn,
    PackOut,
    PublishIn,
    ReviewIn,
    RevisionOut,
    TryIn,
    changes_between,
)
from api.v1.worksheets import bench_named
from shop.core.ids import new_id
from shop.core.models import Person
from shop.jobs.errors import DraftFaulty
from shop.jobs.models import Draft
from shop.jobs.selectors import draft_row, drafts_in_full, problems_of, revision_of, revision_row
from shop.jobs.services import (
    begin_draft,
    drop_draft,
    made_up_repair,
    made_up_unit,
    publish_draft,
    review_draft,
    save_draft,
    submit_draft,
    try_draft,
)
from shop.repairs.models import Repair
from shop.repairs.selectors import repairs_visible_to
from shop.repairs.stages import CLOSED
from shop.units.selectors import model_sheets_visible_to, units_visible_to

IF_MATCH = OpenApiParameter(
    "If-Match", OpenApiTypes.STR, OpenApiParameter.HEADER,
    description="The version that was looked at; another one is refused (412).",
)  # fmt: skip
IF_MATCH_NEEDED = OpenApiParameter(
    "If-Match", OpenApiTypes.STR, OpenApiParameter.HEADER, required=True,
    description="The version the change is based on.",
)  # fmt: skip


def _sent(shape: type[serializers.Serializer[Any]], request: Request) -> dict[str, Any]:
    sent = shape(data=request.data)
    sent.is_valid(raise_exception=True)
    return sent.validated_data


def _draft(id: UUID) -> Draft:
    return get_object_or_404(drafts_in_full(), id=id)


def _answer(request: Request, id: UUID, status: int = 200) -> Response:
    draft = _draft(id)
    answer = Response(draft_row(draft, person_of(request)), status=status)
    return with_etag(answer, draft.version)


def _version(request: Request) -> int | None:
    """The version that was looked at, where somebody says so."""
    return version_wanted(request) if request.headers.get("If-Match") else None


class TemplateDrafts(APIView):
    permission_classes = [IsBench]

    @extend_schema(request=BeginIn, responses={200: DraftOut, 201: DraftOut})
    def post(self, request: Request) -> Response:
        """Begin a draft. The slug of the template it comes from makes it a change of that one."""
        sent = _sent(BeginIn, request)
        source = sent.get("from")
        draft, created = begin_draft(
            id=sent.get("id") or new_id(),
            slug=sent["slug"],
            title=sent.get("title", ""),
            by=person_of(request),
            source=revision_of(source["template"], source.get("revision")) if source else None,
        )
        return _answer(request, draft.id, 201 if created else 200)


class TemplateDraftDetail(APIView):
    permission_classes = [IsBench]

    @extend_schema(responses=DraftOut)
    def get(self, request: Request, id: UUID) -> Response:
        return _answer(request, id)

    @extend_schema(request=BodyIn, parameters=[IF_MATCH_NEEDED], responses=DraftOut)
    def put(self, request: Request, id: UUID) -> Response:
        """Keep the body, faulty or not; `problems` say what is wrong in it."""
        version, sent = version_wanted(request), _sent(BodyIn, request)
        save_draft(
            draft=_draft(id),
            body=sent["body"],
            version=version,
            by=person_of(request),
            based_on=sent.get("based_on"),
        )
        return _answer(request, id)

    @extend_schema(parameters=[IF_MATCH], responses={204: None})
    def delete(self, request: Request, id: UUID) -> Response:
        drop_draft(draft=_draft(id), version=_version(request))
        return Response(status=204)


class DraftSubmit(APIView):
    permission_classes = [IsBench]

    @extend_schema(request=NoteIn, parameters=[IF_MATCH], responses=DraftOut)
    def post(self, request: Request, id: UUID) -> Response:
        note = _sent(NoteIn, request).get("note", "")
        person, version = person_of(request), _version(request)
        submit_draft(draft=_draft(id), note=note, by=person, version=version)
        return _answer(request, id)


class DraftReview(APIView):
    permission_classes = [IsBench]

    @extend_schema(request=ReviewIn, parameters=[IF_MATCH_NEEDED], responses=DraftOut)
    def post(self, request: Request, id: UUID) -> Response:
        """Agree to the version that was seen, or send it back with a note.

        Whoever reviews types their password.
        """
        version, sent = version_wanted(request), _sent(ReviewIn, request)
        review_draft(
            draft=_draft(id),
            agree=sent["agree"],
            note=sent.get("note", ""),
            by=signer(request, sent.get("username"), sent["password"]),
            version=version,
        )
        return _answer(request, id)


class DraftPublish(APIView):
    permission_classes = [IsManager]

    @extend_schema(request=PublishIn, parameters=[IF_MATCH], responses=RevisionOut)
    def post(self, request: Request, id: UUID) -> Response:
        sent = _sent(PublishIn, request)
        revision = publish_draft(
            draft=_draft(id),
            change_note=sent["change_note"],
            by=person_of(request),
            reason=sent.get("reason", ""),
            version=_version(request),
        )
        return Response(revision_row(revision))


class DraftDifference(APIView):
    permission_classes = [IsBench]

    @extend_schema(responses=DifferenceOut)
    def get(self, request: Request, id: UUID) -> Response:
        """What a sound draft changes of the revision it is based on; of a new template nothing."""
        draft = _draft(id)
        if problems := problems_of(draft):
            raise DraftFaulty(problems)
        return Response(
            changes_between(draft.based_on.body if draft.based_on else draft.body, draft.body)
        )


class DraftTry(APIView):
    permission_classes = [IsBench]

    @extend_schema(request=TryIn, responses=PackOut)
    def post(self, request: Request, id: UUID) -> Response:
        """The pack that the draft would make. It is not kept."""
        sent = _sent(TryIn, request)
        pack = try_draft(
            draft=_draft(id),
            repair=_repair(person_of(request), sent),
            by=person_of(request),
            bench=bench_named(sent.get("bench")),
            facts=sent.get("facts"),
        )
        return Response({"pack": pack})


def _repair(person: Person, sent: dict[str, Any]) -> Repair:
    """The repair named, the open one of the unit named, or one that is made up."""
    repairs = repairs_visible_to(person).select_related("unit__model_sheet")
    if sent.get("repair"):
        return get_object_or_404(repairs, id=sent["repair"])
    if sent.get("unit"):
        units = units_visible_to(person).select_related("model_sheet")
        unit = get_object_or_404(units, id=sent["unit"])
        open_one = repairs.filter(unit=unit).exclude(stage__in=CLOSED).first()
        return open_one or made_up_repair(unit)
    sheets = model_sheets_visible_to(person)
    sheet = get_object_or_404(sheets, id=sent["sheet"]) if sent.get("sheet") else None
    return made_up_repair(made_up_unit(sheet))
