"""Small labels for bins, parts, meters, shelves and whatever else has a code."""

from __future__ import annotations

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from api.v1.documents import DocumentOut, document_row
from shop.documents.services import ask_for_labels

MOST = 400  # ten sheets


class LabelsIn(serializers.Serializer[Any]):
    codes = serializers.ListField(
        child=serializers.CharField(max_length=8), min_length=1, max_length=MOST
    )
    address = serializers.BooleanField(
        default=False, help_text="the address of its page in place of the bare code"
    )


class Labels(APIView):
    """A sheet of labels is drawn in the background; its file answers 409 until it is there."""

    permission_classes = [IsStaff]

    @extend_schema(request=LabelsIn, responses={201: DocumentOut})
    def post(self, request: Request) -> Response:
        sent = LabelsIn(data=request.data)
        sent.is_valid(raise_exception=True)
        document = ask_for_labels(**sent.validated_data, by=person_of(request))
        return Response(DocumentOut(document_row(document)).data, status=201)
