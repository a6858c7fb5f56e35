"""What it will cost, and the customer's answer as the desk took it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _
from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from api.permissions import IsDesk, IsStaff, person_of
from api.v1.documents import repair_or_404
from shop.billing.models import Estimate
from shop.billing.selectors import as_lines, is_within_limit
from shop.billing.services import answer_estimate, make_estimate, send_estimate
from shop.core.models import Person
from shop.repairs.selectors import repairs_visible_to

MOST_MINOR = 100_000_000
HOW = ("by phone", "at the desk")


class EstimateLineIn(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=200)
    quantity = serializers.IntegerField(min_value=1, max_value=1000)
    price_minor = serializers.IntegerField(min_value=0, max_value=MOST_MINOR)


class EstimateIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    lines = EstimateLineIn(many=True, allow_empty=False)
    note = serializers.CharField(max_length=2000, allow_blank=True, default="")


class AnswerIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    agreed = serializers.BooleanField()
    how = serializers.ChoiceField(choices=HOW)
    words = serializers.CharField(max_length=300, allow_blank=True, default="")


class LineOut(serializers.Serializer[Any]):
    text = serializers.CharField()
    quantity = serializers.IntegerField()
    price_minor = serializers.IntegerField()
    total_minor = serializers.IntegerField()


class EstimateOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    lines = LineOut(many=True)
    note = serializers.CharField()
    net_minor = serializers.IntegerField()
    tax_minor = serializers.IntegerField()
    total_minor = serializers.IntegerField()
    is_within_limit = serializers.BooleanField()
    state = serializers.ChoiceField(choices=Estimate.State.choices)
    sent_at = serializers.DateTimeField(allow_null=True)
    answered_at = serializers.DateTimeField(allow_null=True)
    answered_how = serializers.CharField()
    answer_words = serializers.CharField()


def estimate_row(estimate: Estimate) -> dict[str, Any]:
    """An estimate as the screens show it."""
    names = set(EstimateOut().fields) - {"lines", "is_within_limit"}
    return {
        **{name: getattr(estimate, name) for name in names},
        "lines": as_lines(estimate.lines),
        "is_within_limit": is_within_limit(estimate.repair, estimate.total_minor),
    }


def estimate_or_404(person: Person, id: UUID) -> Estimate:
    visible = Estimate.objects.filter(repair__in=repairs_visible_to(person))
    return get_object_or_404(visible.select_related("repair"), id=id)


class RepairEstimates(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=EstimateIn, responses={201: EstimateOut})
    def post(self, request: Request, id: UUID) -> Response:
        sent = EstimateIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair = repair_or_404(request, id)
        estimate = make_estimate(repair=repair, by=person_of(request), **sent.validated_data)
        return Response(EstimateOut(estimate_row(estimate)).data, status=201)


class EstimateSend(APIView):
    permission_classes = [IsStaff]

    @extend_schema(request=None, responses=EstimateOut)
    def post(self, request: Request, id: UUID) -> Response:
        estimate = send_estimate(
            estimate=estimate_or_404(person_of(request), id), by=person_of(request)
        )
        return Response(EstimateOut(estimate_row(estimate)).data)


class EstimateAnswer(APIView):
    permission_classes = [IsDesk]

    @extend_schema(request=AnswerIn, responses=EstimateOut)
    def post(self, request: Request, id: UUID) -> Response:
        sent = AnswerIn(data=request.data)
        sent.is_valid(raise_exception=True)
        answer = sent.validated_data
        estimate = answer_estimate(
            estimate=estimate_or_404(person_of(request), id),
            agreed=answer["agreed"],
            how={"by phone": _("by phone"), "at the desk": _("at the desk")}[answer["how"]],
            words=answer["words"],
            by=person_of(request),
        )
        return Response(EstimateOut(estimate_row(estimate)).data)
