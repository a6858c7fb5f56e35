"""Papers of a repair, their PDFs, and what became of its messages."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import FileResponse
from django.shortcuts import get_object_or_404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from shop.core.errors import NotAllowed
from shop.core.models import Person, Role
from shop.documents.errors import NotDrawnYet
from shop.documents.models import Document
from shop.documents.selectors import documents_of, state_of
from shop.documents.services import ask_for_paper
from shop.notices.models import Notice
from shop.repairs.models import Repair
from shop.repairs.selectors import repairs_visible_to

Kind = Document.Kind
ASKED_FOR = [(kind.value, kind.label) for kind in (Kind.RECEIPT, Kind.TAG, Kind.PLATE_STICKER)]
# What a tech needs at the bench; the rest holds the customer's name and money.
FOR_TECHS = {Kind.TAG, Kind.PLATE_STICKER, Kind.TEST_REPORT, Kind.LABELS}


class DocumentOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    kind = serializers.ChoiceField(choices=Kind.choices)
    title = serializers.CharField()
    requested_at = serializers.DateTimeField()
    issued_at = serializers.DateTimeField(allow_null=True)
    url = serializers.CharField(allow_null=True)
    replaces = serializers.UUIDField(allow_null=True)
    state = serializers.ChoiceField(choices=["ready", "drawing", "failed"])


class PaperWantedIn(serializers.Serializer[Any]):
    kind = serializers.ChoiceField(choices=ASKED_FOR)


class NoticeOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    kind = serializers.ChoiceField(choices=Notice.Kind.choices)
    to = serializers.CharField()
    subject = serializers.CharField()
    created_at = serializers.DateTimeField()
    sent_at = serializers.DateTimeField(allow_null=True)
    not_sent_why = serializers.CharField()


def document_row(document: Document) -> dict[str, Any]:
    """A paper as lists show it; its address is there once its PDF is."""
    return {
        "id": document.id,
        "kind": document.kind,
        "title": document.title,
        "requested_at": document.requested_at,
        "issued_at": document.issued_at,
        "url": f"/api/v1/documents/{document.id}/file/" if document.issued_at else None,
        "replaces": document.replaces_id,
        "state": state_of(document),
    }


def document_rows(repair: Repair, person: Person) -> list[dict[str, Any]]:
    """The papers of a repair that a person may open, newest first."""
    return [document_row(row) for row in documents_of(repair) if may_open(row, person)]


def may_open(document: Document, person: Person) -> bool:
    return person.role != Role.TECH or document.kind in FOR_TECHS


def repair_or_404(request: Request, id: UUID) -> Repair:
    return get_object_or_404(repairs_visible_to(person_of(request)), id=id)


class RepairDocuments(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=DocumentOut(many=True))
    def get(self, request: Request, id: UUID) -> Response:
        rows = document_rows(repair_or_404(request, id), person_of(request))
        return Response(DocumentOut(rows, many=True).data)

    @extend_schema(request=PaperWantedIn, responses={201: DocumentOut})
    def post(self, request: Request, id: UUID) -> Response:
        sent = PaperWantedIn(data=request.data)
        sent.is_valid(raise_exception=True)
        kind = sent.validated_data["kind"]
        if person_of(request).role == Role.TECH and kind not in FOR_TECHS:
            raise NotAllowed()
        repair = repair_or_404(request, id)
        document = ask_for_paper(kind=kind, repair=repair, by=person_of(request))
        return Response(DocumentOut(document_row(document)).data, status=201)


class DocumentFile(APIView):
    permission_classes = [IsStaff]

    @extend_schema(
        responses={
            (200, "application/pdf"): OpenApiResponse(OpenApiTypes.BINARY, description="The PDF")
        }
    )
    def get(self, request: Request, id: UUID) -> FileResponse:
        document = get_object_or_404(Document, id=id)
        if not may_open(document, person_of(request)):
            raise NotAllowed()
        if not document.file:
            raise NotDrawnYet()
        name = f"{document.kind.replace('_', '-')}-{document.id}.pdf"
        return FileResponse(document.file.open(), content_type="application/pdf", filename=name)


class RepairNotices(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=NoticeOut(many=True))
    def get(self, request: Request, id: UUID) -> Response:
        if person_of(request).role == Role.TECH:
            raise NotAllowed()
        rows = repair_or_404(request, id).notices.order_by("-created_at", "-id")
        return Response(NoticeOut(rows, many=True).data)
