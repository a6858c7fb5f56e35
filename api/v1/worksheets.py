"""Worksheets: started, looked at, signed and stopped. Entries come through sync."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpResponse
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext_lazy as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.compressed import json_answer
from api.devices import SESSION_KEY
from api.permissions import IsBench, IsStaff, person_of
from api.proving import signer
from api.v1.entry_shapes import EntryOut, WorksheetOut
from api.v1.repair_shapes import WorksheetRowOut
from shop.benches.models import Bench
from shop.core.errors import BadField, NotFound
from shop.core.models import Device
from shop.jobs.models import Worksheet
from shop.jobs.selectors import (
    entries_of,
    entry_row,
    pack_of,
    worksheet_row,
    worksheets_to_hold,
    worksheets_visible_to,
)
from shop.jobs.services import sign_off, start_worksheet, stop_worksheet
from shop.repairs.selectors import repairs_visible_to


class StartIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    repair = serializers.UUIDField()
    template = serializers.CharField(max_length=60)
    bench = serializers.UUIDField(required=False, allow_null=True)
    facts = serializers.DictField(required=False)


class SignOffIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    step = serializers.CharField(max_length=120)
    password = serializers.CharField(max_length=256, trim_whitespace=False)
    username = serializers.CharField(max_length=150, required=False, allow_blank=True)
    note = serializers.CharField(max_length=2000, required=False, allow_blank=True)


class StopIn(serializers.Serializer[Any]):
    id = serializers.UUIDField(required=False)
    reason = serializers.CharField(max_length=200)


class HeldOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    pack_sha256 = serializers.CharField()
    last_seq = serializers.IntegerField()
    repair = serializers.UUIDField()
    unit_code = serializers.CharField()


class MyPacksOut(serializers.Serializer[Any]):
    worksheets = HeldOut(many=True)


class Worksheets(APIView):
    def get_permissions(self) -> list[Any]:
        return [IsBench()] if self.request.method == "POST" else [IsStaff()]

    @extend_schema(
        parameters=[OpenApiParameter("repair", OpenApiTypes.UUID, required=True)],
        responses=WorksheetRowOut(many=True),
    )
    def get(self, request: Request) -> Response:
        repair = _uuid("repair", request.query_params.get("repair"))
        rows = worksheets_visible_to(person_of(request)).filter(repair_id=repair).order_by("id")
        return Response([worksheet_row(worksheet) for worksheet in rows])

    @extend_schema(request=StartIn, responses={200: WorksheetRowOut, 201: WorksheetRowOut})
    def post(self, request: Request) -> Response:
        sent = StartIn(data=request.data)
        sent.is_valid(raise_exception=True)
        wanted, person = sent.validated_data, person_of(request)
        worksheet, created = start_worksheet(
            id=wanted["id"],
            repair=get_object_or_404(
                repairs_visible_to(person).select_related("unit__model_sheet"), id=wanted["repair"]
            ),
            template=wanted["template"],
            by=person,
            bench=bench_named(wanted.get("bench")),
            facts=wanted.get("facts"),
        )
        row = worksheet_row(worksheets_visible_to(person).get(id=worksheet.id))
        return Response(row, status=201 if created else 200)


def bench_named(id: UUID | None) -> Bench | None:
    if id is None:
        return None
    bench = Bench.objects.filter(id=id).first()
    if bench is None:
        raise BadField("bench", _("There is no such bench."), "unknown")
    return bench


def _uuid(field: str, text: str | None) -> UUID:
    try:
        return UUID(text or "")
    except ValueError as error:
        raise BadField(field, _("This is no id."), "invalid") from error


class WorksheetDetail(APIView):
    permission_classes = [IsStaff]

    @extend_schema(responses=WorksheetOut)
    def get(self, request: Request, id: UUID) -> Response:
        worksheet = _worksheet(request, id)
        entries = [entry_row(entry) for entry in entries_of(id)]
        more = {"stop_reason": worksheet.stop_reason, "entries": entries}
        return Response({**worksheet_row(worksheet), **more})


def _worksheet(request: Request, id: UUID) -> Worksheet:
    return get_object_or_404(worksheets_visible_to(person_of(request)), id=id)


class WorksheetPack(APIView):
    """The pack as it was computed once: bytes from the database, untouched."""

    permission_classes = [IsStaff]

    @extend_schema(responses={(200, "application/json"): OpenApiTypes.OBJECT, 304: None})
    def get(self, request: Request, id: UUID) -> HttpResponse:
        found = pack_of(id)
        if found is None:
            raise NotFound()
        content, sha256 = found
        etag = f'"{sha256}"'
        if etag in request.META.get("HTTP_IF_NONE_MATCH", ""):
            answer = HttpResponse(status=304)
        else:
            answer = json_answer(request, content)
        # It never changes under this address, but only who works here may keep it.
        answer["ETag"], answer["Cache-Control"] = etag, "private, no-cache"
        return answer


class MyPacks(APIView):
    permission_classes = [IsBench]

    @extend_schema(responses=MyPacksOut)
    def get(self, request: Request) -> Response:
        held = worksheets_to_hold(person_of(request))
        return Response({"worksheets": [_held(worksheet) for worksheet in held]})


def _held(worksheet: Worksheet) -> dict[str, Any]:
    row = worksheet_row(worksheet)
    names = ("id", "pack_sha256", "last_seq", "repair")
    return {**{n: row[n] for n in names}, "unit_code": worksheet.repair.unit.code}


class WorksheetSignOff(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=SignOffIn, responses=EntryOut)
    def post(self, request: Request, id: UUID) -> Response:
        sent = SignOffIn(data=request.data)
        sent.is_valid(raise_exception=True)
        wanted = sent.validated_data
        entry = sign_off(
            id=wanted["id"],
            worksheet=_worksheet(request, id),
            step=wanted["step"],
            by=signer(request, wanted.get("username"), wanted["password"]),
            note=wanted.get("note", ""),
            device_id=_device_id(request),
        )
        return Response(entry_row(entry))


def _device_id(request: Request) -> UUID | None:
    session = getattr(request, "session", None)
    known = session.get(SESSION_KEY) if session is not None else None
    device = Device.objects.filter(id=known).first() if known else None
    return device.id if device else None


class WorksheetStop(APIView):
    permission_classes = [IsBench]

    @extend_schema(request=StopIn, responses=WorksheetRowOut)
    def post(self, request: Request, id: UUID) -> Response:
        sent = StopIn(data=request.data)
        sent.is_valid(raise_exception=True)
        reason = sent.validated_data["reason"]
        worksheet = _worksheet(request, id)
        stop_worksheet(worksheet=worksheet, reason=reason, by=person_of(request))
        return Response(worksheet_row(_worksheet(request, id)))
