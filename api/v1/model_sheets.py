"""Model sheets: what the shop knows about one make and model, and how it came to know it."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.utils.translation import gettext as _
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema, extend_schema_field
from rest_framework import mixins, serializers
from rest_framework.decorators import action
from rest_framework.permissions import BasePermission
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.viewsets import GenericViewSet

from api.etag import version_wanted, with_etag
from api.permissions import IsBench, IsStaff, person_of
from api.scraps import scrap_in
from api.v1.repairs import IF_MATCH
from api.v1.units import HazardOut, UnitOut
from shop.core.errors import BadField
from shop.jobs.models import JobTemplate
from shop.jobs.selectors.sheet_needs import lacks_of
from shop.repairs.models import Photo
from shop.units.history import change_rows
from shop.units.models import ModelSheet, Unit
from shop.units.selectors import (
    hazard_rows,
    model_sheet_matches,
    model_sheets_visible_to,
    unit_card,
    units_visible_to,
)
from shop.units.services import add_model_sheet, give_sheet, save_model_sheet
from shop.units.shapes import FIELDS, sheet_schema
from shop.units.sheet_rules import doubts_about

Q = OpenApiParameter("q", OpenApiTypes.STR, description="Words of make, model or kind.")
FULL = OpenApiParameter("full", OpenApiTypes.STR, enum=["1"], description="With what is missing.")
SINCE = OpenApiParameter("since", OpenApiTypes.INT, description="After this version of the sheet.")
MOST_CHANGES = 400


class DoubtOut(serializers.Serializer[Any]):
    field = serializers.CharField()
    text = serializers.CharField()


class LackOut(serializers.Serializer[Any]):
    """What a job template takes from the sheet and does not find there."""

    template = serializers.CharField()
    title = serializers.CharField()
    what = serializers.ListField(child=serializers.CharField())


class ModelSheetRowOut(serializers.ModelSerializer[ModelSheet]):
    """`doubts` and `lacks` come with `full=1` only."""

    doubts = DoubtOut(many=True, required=False)
    lacks = LackOut(many=True, required=False)

    class Meta:
        model = ModelSheet
        fields = ["id", "make", "model", "kind", "doubts", "lacks"]
        read_only_fields = fields


class ModelSheetOut(serializers.ModelSerializer[ModelSheet]):
    hazards = serializers.SerializerMethodField()
    doubts = serializers.SerializerMethodField()
    lacks = serializers.SerializerMethodField()

    class Meta:
        model = ModelSheet
        fields = ["id", *FIELDS, "version", "doubts", "lacks"]
        read_only_fields = fields

    @extend_schema_field(HazardOut(many=True))
    def get_hazards(self, sheet: ModelSheet) -> list[dict[str, str]]:
        return hazard_rows(sheet.hazards)

    @extend_schema_field(DoubtOut(many=True))
    def get_doubts(self, sheet: ModelSheet) -> list[dict[str, str]]:
        return doubts_about(sheet)

    @extend_schema_field(LackOut(many=True))
    def get_lacks(self, sheet: ModelSheet) -> list[dict[str, Any]]:
        return lacks_of([sheet])[0]


class NewSheetIn(serializers.Serializer[Any]):
    """Beside the fields of the sheet; `unit` gets the new sheet."""

    id = serializers.UUIDField()
    unit = serializers.UUIDField(required=False, allow_null=True, default=None)


class SaveIn(serializers.Serializer[Any]):
    why = serializers.CharField(max_length=200, allow_blank=True, default="")


class UnitIn(serializers.Serializer[Any]):
    unit = serializers.UUIDField()


class SheetChangeOut(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    version = serializers.IntegerField()
    field = serializers.CharField()
    title = serializers.CharField()
    sentences = serializers.ListField(child=serializers.CharField())
    why = serializers.CharField()
    by_name = serializers.CharField()
    at = serializers.DateTimeField()


class SheetChangesOut(serializers.Serializer[Any]):
    results = SheetChangeOut(many=True)


class SinceIn(serializers.Serializer[Any]):
    since = serializers.IntegerField(min_value=0, max_value=10**9, default=0)


@extend_schema(tags=["model sheets"])
class ModelSheetViewSet(mixins.RetrieveModelMixin, GenericViewSet[ModelSheet]):
    """Anybody here reads them; the bench and the manager write them, whole, from what they read."""

    permission_classes = [IsStaff]
    serializer_class = ModelSheetOut
    lookup_value_converter = "uuid"
    queryset = ModelSheet.objects.none()

    def get_permissions(self) -> list[BasePermission]:
        return [IsBench()] if self.action in ("create", "update", "units") else [IsStaff()]

    def get_queryset(self) -> QuerySet[ModelSheet]:
        sheets = model_sheets_visible_to(self.request.user)
        scrap = scrap_in(self.request)
        return model_sheet_matches(scrap, sheets) if scrap else sheets

    @extend_schema(parameters=[Q, FULL], responses=ModelSheetRowOut(many=True))
    def list(self, request: Request) -> Response:
        page = list(self.paginate_queryset(self.get_queryset()) or [])
        rows = [
            {name: getattr(one, name) for name in ("id", "make", "model", "kind")} for one in page
        ]
        if request.query_params.get("full") == "1":
            for row, sheet, lacks in zip(rows, page, lacks_of(page), strict=True):
                row |= {"doubts": doubts_about(sheet), "lacks": lacks}
        return self.get_paginated_response(rows)

    def retrieve(self, request: Request, *args: Any, **named: Any) -> Response:
        return self._answer(self.get_object())

    @extend_schema(request=OpenApiTypes.OBJECT, responses={200: ModelSheetOut, 201: ModelSheetOut})
    def create(self, request: Request) -> Response:
        """A new sheet: its fields, and an `id` made by who sends it. Every unit of this make and
        model without a sheet gets it, and so does `unit`.
        """
        sent, facts = _apart(request, NewSheetIn)
        unit = _unit(request, sent["unit"]) if sent["unit"] else None
        _require_kept_elsewhere(facts)
        sheet, is_new = add_model_sheet(
            id=sent["id"], given=facts, by=person_of(request), unit=unit
        )
        return self._answer(sheet, 201 if is_new else 200)

    @extend_schema(parameters=[IF_MATCH], request=OpenApiTypes.OBJECT, responses=ModelSheetOut)
    def update(self, request: Request, pk: UUID) -> Response:
        """All fields of the sheet anew, and `why`, if there is something to say."""
        version = version_wanted(request)
        sent, facts = _apart(request, SaveIn)
        _require_kept_elsewhere(facts)
        sheet = save_model_sheet(
            sheet=self.get_object(), given=facts, expected_version=version,
            by=person_of(request), why=sent["why"],
        )  # fmt: skip
        return self._answer(sheet)

    @extend_schema(responses=OpenApiTypes.OBJECT)
    @action(detail=False, methods=["get"])
    def shape(self, request: Request) -> Response:
        """The JSON Schema of a sheet in the reader's language: forms are drawn from it."""
        return Response(sheet_schema())

    @extend_schema(parameters=[SINCE], responses=SheetChangesOut)
    @action(detail=True, methods=["get"])
    def changes(self, request: Request, pk: UUID) -> Response:
        """What was changed, by whom, when and why; the newest first."""
        asked = SinceIn(data=request.query_params)
        asked.is_valid(raise_exception=True)
        newer = self.get_object().changes.filter(version__gt=asked.validated_data["since"])
        found = newer.select_related("by").order_by("-version", "id")[:MOST_CHANGES]
        return Response({"results": change_rows(list(found))})

    @extend_schema(request=UnitIn, responses=UnitOut)
    @action(detail=True, methods=["post"])
    def units(self, request: Request, pk: UUID) -> Response:
        """A unit that has no sheet gets this one."""
        sent = UnitIn(data=request.data)
        sent.is_valid(raise_exception=True)
        unit = _unit(request, sent.validated_data["unit"])
        return Response(unit_card(give_sheet(unit=unit, sheet=self.get_object())))

    def _answer(self, sheet: ModelSheet, status: int = 200) -> Response:
        return with_etag(Response(ModelSheetOut(sheet).data, status=status), sheet.version)


def _apart(
    request: Request, beside: type[serializers.Serializer[Any]]
) -> tuple[dict[str, Any], dict[str, Any]]:
    """What is sent beside the sheet, and the sheet."""
    if not isinstance(request.data, dict):
        raise BadField("input", _("This must be a group of fields."), "wrong_kind")
    sent = beside(data=request.data)
    sent.is_valid(raise_exception=True)
    facts = {name: value for name, value in request.data.items() if name not in sent.fields}
    return sent.validated_data, facts


def _unit(request: Request, id: UUID) -> Unit:
    unit = units_visible_to(request.user).filter(id=id).first()
    if unit is None:
        raise BadField("unit", _("There is no such unit."), "does_not_exist")
    return unit


def _require_kept_elsewhere(facts: dict[str, Any]) -> None:
    """Job templates and pictures that a sheet names are there. `units` may know neither."""
    slugs = _named(facts, "known_faults", "template")
    _require_all(
        slugs, JobTemplate.objects.filter(slug__in=slugs.values()).values_list("slug", flat=True),
        _("There is no such job template."),
    )  # fmt: skip
    photos = _named(facts, "pictures", "sha256")
    _require_all(
        photos, Photo.objects.filter(sha256__in=photos.values()).values_list("sha256", flat=True),
        _("This picture has not arrived here."),
    )  # fmt: skip


def _named(facts: dict[str, Any], field: str, key: str) -> dict[str, str]:
    """The texts under one key in the rows of a field, by their path; what has no such shape is
    refused later, by the sheet's own.
    """
    rows = facts.get(field)
    found = enumerate(rows if isinstance(rows, list) else [])
    named = {f"{field}[{n}].{key}": row.get(key) for n, row in found if isinstance(row, dict)}
    return {path: name for path, name in named.items() if name and isinstance(name, str)}


def _require_all(named: dict[str, str], there: Any, reason: str) -> None:
    known = set(there)
    for path, name in named.items():
        if name not in known:
            raise BadField(path, reason, "does_not_exist")
