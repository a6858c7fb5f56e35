"""The bench log of a repair: what was recorded without a step."""

from __future__ import annotations

from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsStaff, person_of
from api.v1.entry_shapes import LogOut
from shop.jobs.selectors import entries_of, entry_row
from shop.repairs.selectors import repairs_visible_to


class BenchLog(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=LogOut)
    def get(self, request: Request, id: UUID) -> Response:
        get_object_or_404(repairs_visible_to(person_of(request)), id=id)
        entries = [entry_row(entry) for entry in entries_of(id)]
        last_seq = entries[-1]["seq"] if entries else 0
        return Response({"last_seq": last_seq, "entries": entries})
