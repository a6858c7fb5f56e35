"""The bench log of a repair: what was recorded without a step; and whether a record holds."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from api.v1.entry_shapes import LogOut
from shop.jobs.models import RecordHead
from shop.jobs.selectors import entries_of, entry_row, first_break_of
from shop.repairs.selectors import repairs_visible_to


class BenchLog(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=LogOut)
    def get(self, request: Request, id: UUID) -> Response:
        get_object_or_404(repairs_visible_to(person_of(request)), id=id)
        entries = [entry_row(entry) for entry in entries_of(id)]
        last_seq = entries[-1]["seq"] if entries else 0
        return Response({"last_seq": last_seq, "entries": entries})


class ChainOut(serializers.Serializer[Any]):
    """Whether every entry of a record is as it was written, and the end of its chain."""

    holds = serializers.BooleanField()
    last_seq = serializers.IntegerField()
    last_hash = serializers.CharField()
    broken_at = serializers.IntegerField(allow_null=True)
    reason = serializers.CharField(allow_null=True)


class RecordChain(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=ChainOut)
    def get(self, request: Request, id: UUID) -> Response:
        """Works the whole chain out again, from the first entry on."""
        head = RecordHead.objects.filter(record=id).first()
        if head is None:  # nothing was recorded yet in the bench log of a repair
            get_object_or_404(repairs_visible_to(person_of(request)), id=id)
            head = RecordHead(record=id)
        broken = first_break_of(id)
        return Response(
            {
                "holds": broken is None,
                "last_seq": head.last_seq,
                "last_hash": head.last_hash,
                "broken_at": broken.seq if broken else None,
                "reason": broken.reason if broken else None,
            }
        )
