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
from api.v1.entry_shapes import EntryOut, LogOut
from shop.jobs.models import Entry, RecordHead
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


class RecordEntryOut(EntryOut):
    meter_state = serializers.DictField(allow_null=True)


class RecordOut(serializers.Serializer[Any]):
    """Every entry of a record as it was written, and whether its chain holds."""

    holds = serializers.BooleanField()
    last_seq = serializers.IntegerField()
    last_hash = serializers.CharField()
    broken_at = serializers.IntegerField(allow_null=True)
    reason = serializers.CharField(allow_null=True)
    entries = RecordEntryOut(many=True)


class RecordView(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=RecordOut)
    def get(self, request: Request, id: UUID) -> Response:
        """A worksheet or a bench log; its whole chain is worked out again, from the first entry."""
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
                "entries": [_record_row(entry) for entry in entries_of(id)],
            }
        )


def _record_row(entry: Entry) -> dict[str, Any]:
    return {**entry_row(entry), "meter_state": entry.meter_state}
