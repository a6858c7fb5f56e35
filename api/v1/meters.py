"""Meters: what they are, their calibrations, and everything that was read with one of them."""

from __future__ import annotations

from math import isfinite
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
from api.permissions import IsBench, IsManager, IsStaff, person_of
from api.v1.benches import MeterOut, MeterPageOut, one_page
from shop.benches.models import Calibration, Meter, MeterKind
from shop.benches.selectors import all_meters, calibrations_of, meter_card, meters_in_use
from shop.benches.services import add_meter, change_meter, forbid_overdue, note_calibration
from shop.calc.quantities import Quantity
from shop.core.selectors import day_begins, the_shop, today_in_shop
from shop.customers.selectors import may_see_contacts
from shop.jobs.meter_readings import MOST_ROWS, meter_history

QUANTITIES = [quantity.value for quantity in Quantity]


class FiniteField(serializers.FloatField):
    """A number. `nan` is none, and would pass every bound."""

    def to_internal_value(self, data: Any) -> float:
        value: float = super().to_internal_value(data)
        if not isfinite(value):
            self.fail("invalid")
        return value


class AccuracyRow(serializers.Serializer[Any]):
    quantity = serializers.ChoiceField(choices=QUANTITIES)
    percent = FiniteField(min_value=0, max_value=100)
    counts = FiniteField(min_value=0, max_value=1e6)
    resolution = FiniteField(min_value=0, max_value=1e12)
    range_end = FiniteField(min_value=0, max_value=1e15, required=False, allow_null=True)


class MeterIn(serializers.Serializer[Any]):
    name = serializers.CharField(max_length=80)
    kinds = serializers.ListField(
        child=serializers.ChoiceField(choices=MeterKind.choices), min_length=1, max_length=10
    )
    serial = serializers.CharField(max_length=60, allow_blank=True, default="")
    accuracy = AccuracyRow(many=True)
    retired_on = serializers.DateField(required=False, allow_null=True)


class NewMeterIn(MeterIn):
    id = serializers.UUIDField()


class CalibrationIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    done_on = serializers.DateField()
    due_on = serializers.DateField()
    found = serializers.ChoiceField(choices=Calibration.Found.choices)
    certificate = serializers.CharField(max_length=80, allow_blank=True, default="")
    note = serializers.CharField(max_length=300, allow_blank=True, default="")


class CalibrationOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    done_on = serializers.DateField()
    due_on = serializers.DateField()
    found = serializers.CharField()
    certificate = serializers.CharField()
    note = serializers.CharField()
    noted_by_name = serializers.CharField()


class MeterFullOut(MeterOut):
    serial = serializers.CharField()
    calibrated_on = serializers.DateField(allow_null=True)
    retired_on = serializers.DateField(allow_null=True)
    version = serializers.IntegerField()
    calibrations = CalibrationOut(many=True)


class WouldBeOut(serializers.Serializer[Any]):
    value_text = serializers.CharField(allow_null=True)
    verdict = serializers.CharField()


class TakenOut(serializers.Serializer[Any]):
    """One reading, as recorded; the limits and the verdict are those of then."""

    id = serializers.UUIDField()
    made_at = serializers.DateTimeField()
    made_by_name = serializers.CharField()
    repair = serializers.UUIDField()
    repair_number = serializers.IntegerField()
    repair_stage = serializers.CharField()
    customer_name = serializers.CharField()
    unit = serializers.CharField()
    worksheet = serializers.UUIDField(allow_null=True)
    title = serializers.CharField()
    as_typed = serializers.CharField()
    quantity = serializers.CharField(allow_blank=True)
    value_text = serializers.CharField(allow_null=True)
    unit_code = serializers.CharField()
    low = serializers.CharField(allow_null=True)
    high = serializers.CharField(allow_null=True)
    rule = serializers.CharField()
    verdict = serializers.CharField(allow_blank=True)
    calibration = serializers.CharField()
    due_on = serializers.CharField(allow_null=True)
    is_replaced = serializers.BooleanField()
    would_be = WouldBeOut(allow_null=True)


class MeterHistoryOut(serializers.Serializer[Any]):
    total = serializers.IntegerField()
    repairs = serializers.IntegerField()
    handed_back = serializers.IntegerField()
    would_change = serializers.IntegerField()
    readings = TakenOut(many=True)


class HistoryIn(serializers.Serializer[Any]):
    since = serializers.DateField()
    off_percent = FiniteField(min_value=-50, max_value=50, required=False, allow_null=True)


class MeterRulesIn(serializers.Serializer[Any]):
    overdue_forbidden = serializers.ListField(child=serializers.ChoiceField(choices=QUANTITIES))


class MeterKindOut(serializers.Serializer[Any]):
    key = serializers.CharField()
    title = serializers.CharField()


class MeterRulesOut(MeterRulesIn):
    kinds = MeterKindOut(many=True)


def full_card(meter: Meter) -> dict[str, Any]:
    return {
        **meter_card(meter, today_in_shop()),
        "serial": meter.serial,
        "calibrated_on": meter.calibrated_on,
        "retired_on": meter.retired_on,
        "version": meter.version,
        "calibrations": [_calibration(row) for row in calibrations_of(meter)],
    }


def _calibration(row: Calibration) -> dict[str, Any]:
    names = ("id", "done_on", "due_on", "found", "certificate", "note")
    return {name: getattr(row, name) for name in names} | {"noted_by_name": str(row.noted_by)}


def _answer(meter: Meter, status: int = 200) -> Response:
    return with_etag(Response(full_card(meter), status=status), meter.version)


class MeterList(APIView):
    def get_permissions(self) -> list[Any]:
        return [IsManager()] if self.request.method == "POST" else [IsStaff()]

    @extend_schema(
        operation_id="meters_list",
        tags=["benches"],
        parameters=[OpenApiParameter("all", OpenApiTypes.BOOL, description="With those put away.")],
        responses=MeterPageOut,
    )
    def get(self, request: Request) -> Response:
        """Meters in use, with their calibration as of today."""
        today = today_in_shop()
        wanted = all_meters() if request.query_params.get("all") else meters_in_use(today)
        return one_page([meter_card(meter, today) for meter in wanted])

    @extend_schema(
        tags=["benches"], request=NewMeterIn, responses={200: MeterFullOut, 201: MeterFullOut}
    )
    def post(self, request: Request) -> Response:
        sent = NewMeterIn(data=request.data)
        sent.is_valid(raise_exception=True)
        facts = dict(sent.validated_data)
        meter, is_new = add_meter(id=facts.pop("id"), facts=facts)
        return _answer(meter, 201 if is_new else 200)


class MeterDetail(APIView):
    def get_permissions(self) -> list[Any]:
        return [IsManager()] if self.request.method == "PUT" else [IsStaff()]

    @extend_schema(tags=["benches"], responses=MeterFullOut)
    def get(self, request: Request, id: UUID) -> Response:
        return _answer(get_object_or_404(Meter, id=id))

    @extend_schema(tags=["benches"], request=MeterIn, responses=MeterFullOut)
    def put(self, request: Request, id: UUID) -> Response:
        version = version_wanted(request)
        sent = MeterIn(data=request.data)
        sent.is_valid(raise_exception=True)
        meter = get_object_or_404(Meter, id=id)
        return _answer(change_meter(meter=meter, version=version, facts=dict(sent.validated_data)))


class MeterCalibrations(APIView):
    permission_classes = [IsManager]

    @extend_schema(tags=["benches"], request=CalibrationIn, responses={201: MeterFullOut})
    def post(self, request: Request, id: UUID) -> Response:
        sent = CalibrationIn(data=request.data)
        sent.is_valid(raise_exception=True)
        meter = get_object_or_404(Meter, id=id)
        by, today = person_of(request), today_in_shop()
        note_calibration(meter=meter, by=by, today=today, **sent.validated_data)
        return _answer(get_object_or_404(Meter, id=id), 201)


class MeterReadings(APIView):
    permission_classes = [IsBench]

    @extend_schema(
        tags=["benches"],
        description=f"At most {MOST_ROWS} readings, newest first; `total` says how many there are.",
        parameters=[
            OpenApiParameter("since", OpenApiTypes.DATE, required=True),
            OpenApiParameter(
                "off_percent", OpenApiTypes.DOUBLE, description="How much too high it reads."
            ),
        ],
        responses=MeterHistoryOut,
    )
    def get(self, request: Request, id: UUID) -> Response:
        asked = HistoryIn(data=request.query_params)
        asked.is_valid(raise_exception=True)
        wanted = asked.validated_data
        meter = get_object_or_404(Meter, id=id)
        since = day_begins(wanted["since"])
        history = meter_history(meter, since, wanted.get("off_percent"))
        if not may_see_contacts(request.user):  # nor whose the units are
            for row in history["readings"]:
                row["customer_name"] = ""
        return Response(history)


class MeterRules(APIView):
    """What kinds of meters there are, and for what an overdue one is refused at the bench."""

    def get_permissions(self) -> list[Any]:
        return [IsManager()] if self.request.method == "PUT" else [IsStaff()]

    @extend_schema(tags=["benches"], responses=MeterRulesOut)
    def get(self, request: Request) -> Response:
        return self._answer(the_shop().overdue_forbidden)

    @extend_schema(tags=["benches"], request=MeterRulesIn, responses=MeterRulesOut)
    def put(self, request: Request) -> Response:
        sent = MeterRulesIn(data=request.data)
        sent.is_valid(raise_exception=True)
        return self._answer(forbid_overdue(quantities=sent.validated_data["overdue_forbidden"]))

    def _answer(self, forbidden: list[str]) -> Response:
        kinds = [{"key": kind.value, "title": str(kind.label)} for kind in MeterKind]
        return Response({"overdue_forbidden": forbidden, "kinds": kinds})
