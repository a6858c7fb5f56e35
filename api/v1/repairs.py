"""Repairs: booking in, lists, one in full, its changes, handing back."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from api.etag import version_wanted, with_etag
from api.pagination import NewestFirst
from api.permissions import IsBench, IsDesk, IsStaff, person_of
from api.scraps import scrap_in
from api.v1.booking import MAX_HZ, MAX_VOLT, BookInIn, SignatureIn
from api.v1.repair_cards import repair_card, status_link
from api.v1.repair_shapes import STAGES, RepairOut, RepairRowOut
from shop.core.errors import BadField
from shop.core.models import Person
from shop.core.selectors import active_people
from shop.repairs import services
from shop.repairs.models import Repair, Stage
from shop.repairs.selectors import (
    repair_rows,
    repairs_matching,
    repairs_visible_to,
    row_values,
)
from shop.repairs.stages import CLOSED

IF_MATCH = OpenApiParameter(
    "If-Match",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    required=True,
    description="The ETag it was read with.",
)
FILTERS = [
    OpenApiParameter("stage", OpenApiTypes.STR, enum=Stage.values, many=True, explode=True),
    OpenApiParameter("q", OpenApiTypes.STR, description="Any scrap of number, unit or customer."),
    OpenApiParameter("mine", OpenApiTypes.STR, enum=["1"], description="Assigned to me."),
    OpenApiParameter("open", OpenApiTypes.STR, enum=["1"], description="Not closed."),
]


class PlanIn(serializers.Serializer[Any]):
    due_on = serializers.DateField(allow_null=True, required=False)
    assigned_to = serializers.PrimaryKeyRelatedField(
        queryset=Person.objects.none(), allow_null=True, required=False
    )
    set_for_volt = serializers.IntegerField(
        min_value=1, max_value=MAX_VOLT, required=False, help_text="As found set for, corrected."
    )
    set_for_hz = serializers.IntegerField(
        min_value=1, max_value=MAX_HZ, allow_null=True, required=False
    )

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        fields = super().get_fields()
        fields["assigned_to"].queryset = active_people()  # type: ignore[attr-defined]
        return fields


class StageChangeIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    to = serializers.ChoiceField(choices=STAGES)
    reason = serializers.CharField(max_length=300, allow_blank=True, default="")


class HandBackIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    pieces = serializers.ListField(
        child=serializers.CharField(max_length=200), max_length=100, default=list
    )
    signature = SignatureIn(allow_null=True, default=None)
    missing_reason = serializers.CharField(max_length=300, allow_blank=True, default="")
    is_closed_up = serializers.BooleanField(
        default=False,
        help_text="Left unrepaired: it is closed up and labelled not safe to power.",
    )


class TakeIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    taken_from = serializers.UUIDField(
        allow_null=True, default=None, help_text="Whose hands a manager takes it from."
    )
    note = serializers.CharField(max_length=300, allow_blank=True, default="")


class HandOverIn(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    to = serializers.PrimaryKeyRelatedField(
        queryset=Person.objects.none(), allow_null=True, help_text="null: put it back."
    )
    note = serializers.CharField(max_length=300, allow_blank=True, default="")

    def get_fields(self) -> dict[str, serializers.Field[Any, Any, Any, Any]]:
        fields = super().get_fields()
        fields["to"].queryset = active_people()  # type: ignore[attr-defined]
        return fields


class LabourIn(serializers.Serializer[Any]):
    minutes = serializers.IntegerField(min_value=0, allow_null=True)


class LinkOut(serializers.Serializer[Any]):
    url = serializers.CharField()


class NewestRepairsFirst(NewestFirst):
    ordering = ("-booked_in_at", "-id")  # type: ignore[assignment]  # any length


@extend_schema(tags=["repairs"])
class RepairViewSet(GenericViewSet[Repair]):
    """Visits of units. A stage is changed by its own action, never by writing a field."""

    permission_classes = [IsStaff]
    pagination_class = NewestRepairsFirst
    serializer_class = RepairRowOut
    lookup_value_converter = "uuid"
    queryset = Repair.objects.none()

    def get_permissions(self) -> list[BasePermission]:
        for_one_role: dict[str, type[BasePermission]] = {
            "create": IsDesk,
            "hand_back": IsDesk,
            "status_link": IsDesk,
            "labour": IsBench,
            "take": IsBench,
        }
        return [for_one_role.get(self.action, IsStaff)()]

    def get_queryset(self) -> QuerySet[Repair]:
        related = ("unit", "customer", "booked_in_by")
        return repairs_visible_to(self.request.user).select_related(*related)

    @extend_schema(parameters=FILTERS, responses=RepairRowOut(many=True))
    def list(self, request: Request) -> Response:
        page = self.paginate_queryset(row_values(self._wanted(request), request.user))
        return self.get_paginated_response(repair_rows(page or []))

    def _wanted(self, request: Request) -> QuerySet[Repair]:
        asked = request.query_params
        scrap = scrap_in(request)
        user = request.user
        repairs = repairs_matching(scrap, user) if scrap else repairs_visible_to(user)
        if stages := asked.getlist("stage"):
            if strange := set(stages) - set(Stage.values):
                raise BadField("stage", _("There is no stage %s.") % strange.pop())
            repairs = repairs.filter(stage__in=stages)
        if asked.get("mine") == "1":
            repairs = repairs.filter(assigned_to=person_of(request))
        return repairs.exclude(stage__in=CLOSED) if asked.get("open") == "1" else repairs

    @extend_schema(request=BookInIn, responses={200: RepairOut, 201: RepairOut})
    def create(self, request: Request) -> Response:
        """Book a unit in. The same id again answers with the first result."""
        sent = BookInIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair, created = services.book_in(facts=sent.facts(), by=person_of(request))
        answer = self._answer(repair, 201 if created else 200)
        answer.data["status_link"] = status_link(repair)
        return answer

    @extend_schema(responses=RepairOut)
    def retrieve(self, request: Request, pk: Any = None) -> Response:
        return self._answer(self.get_object())

    @extend_schema(parameters=[IF_MATCH], request=PlanIn, responses=RepairOut)
    def partial_update(self, request: Request, pk: Any = None) -> Response:
        """The promised day, who works on it, and the supply it was found set for."""
        sent = PlanIn(data=request.data, partial=True)
        sent.is_valid(raise_exception=True)
        version = version_wanted(request)
        repair = services.change_plan(
            repair=self.get_object(),
            expected_version=version,
            by=person_of(request),
            **sent.validated_data,
        )
        return self._answer(repair)

    @extend_schema(parameters=[IF_MATCH], request=StageChangeIn, responses=RepairOut)
    @action(detail=True, methods=["post"])
    def stage(self, request: Request, pk: Any = None) -> Response:
        """To another stage, as far as the table of stages allows it to this role."""
        sent = StageChangeIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair = self.get_object()
        services.change_stage(
            repair=repair,
            to=sent.validated_data["to"],
            by=person_of(request),
            reason=sent.validated_data["reason"],
            expected_version=version_wanted(request),
            event_id=sent.validated_data["id"],
        )
        return self._answer(repair)

    @extend_schema(request=TakeIn, responses=RepairOut)
    @action(detail=True, methods=["post"])
    def take(self, request: Request, pk: Any = None) -> Response:
        """Take what nobody has or what was handed to me; it says who was quicker."""
        sent = TakeIn(data=request.data)
        sent.is_valid(raise_exception=True)
        by = person_of(request)
        return self._answer(
            services.take_repair(repair=self.get_object(), by=by, **sent.validated_data)
        )

    @extend_schema(parameters=[IF_MATCH], request=HandOverIn, responses=RepairOut)
    @action(detail=True, methods=["post"], url_path="hand-over")
    def hand_over(self, request: Request, pk: Any = None) -> Response:
        """Hand a repair to somebody at the bench, or put it back for whoever takes it."""
        sent = HandOverIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair = services.hand_over(
            repair=self.get_object(),
            by=person_of(request),
            expected_version=version_wanted(request),
            **sent.validated_data,
        )
        return self._answer(repair)

    @extend_schema(parameters=[IF_MATCH], request=HandBackIn, responses=RepairOut)
    @action(detail=True, methods=["post"], url_path="hand-back")
    def hand_back(self, request: Request, pk: Any = None) -> Response:
        """The unit goes back with its pieces ticked off, and the repair closes."""
        sent = HandBackIn(data=request.data)
        sent.is_valid(raise_exception=True)
        repair = self.get_object()
        services.hand_back(
            repair=repair,
            by=person_of(request),
            expected_version=version_wanted(request),
            **sent.validated_data,
        )
        return self._answer(repair)

    @extend_schema(request=None, responses=RepairOut)
    @action(detail=True, methods=["post"], url_path="closed-up")
    def closed_up(self, request: Request, pk: Any = None) -> Response:
        """Vouch for a unit that leaves unrepaired: closed up, labelled not safe to power."""
        repair = services.acknowledge_closed_up(repair=self.get_object(), by=person_of(request))
        return self._answer(repair)

    @extend_schema(parameters=[IF_MATCH], request=LabourIn, responses=RepairOut)
    @action(detail=True, methods=["post"])
    def labour(self, request: Request, pk: Any = None) -> Response:
        """Correct the labour time; null goes back to what the worksheets say."""
        sent = LabourIn(data=request.data)
        sent.is_valid(raise_exception=True)
        version = version_wanted(request)
        repair = services.correct_labour(
            repair=self.get_object(), expected_version=version, **sent.validated_data
        )
        return self._answer(repair)

    @extend_schema(request=None, responses=LinkOut)
    @action(detail=True, methods=["post"], url_path="status-link")
    def status_link(self, request: Request, pk: Any = None) -> Response:
        """The address at which the customer follows this repair."""
        return Response({"url": services.issue_status_link(repair=self.get_object())})

    def _answer(self, repair: Repair, status: int = 200) -> Response:
        card = repair_card(repair, person_of(self.request))
        return with_etag(Response(card, status=status), repair.version)
