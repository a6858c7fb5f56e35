"""Model sheets: what the shop knows about one make and model."""

from __future__ import annotations

from django.db.models import QuerySet
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import (
    OpenApiParameter,
    extend_schema,
    extend_schema_field,
    extend_schema_view,
)
from rest_framework import mixins, serializers
from rest_framework.viewsets import GenericViewSet

from api.permissions import IsStaff
from api.scraps import scrap_in
from api.v1.units import HazardOut
from shop.units.models import ModelSheet
from shop.units.selectors import hazard_rows, model_sheet_matches, model_sheets_visible_to

Q = OpenApiParameter("q", OpenApiTypes.STR, description="Words of make, model or kind.")


class ModelSheetRowOut(serializers.ModelSerializer[ModelSheet]):
    class Meta:
        model = ModelSheet
        fields = ["id", "make", "model", "kind"]
        read_only_fields = fields


class ModelSheetOut(serializers.ModelSerializer[ModelSheet]):
    hazards = serializers.SerializerMethodField()

    class Meta:
        model = ModelSheet
        fields = [
            "id",
            "make",
            "model",
            "kind",
            "year_from",
            "year_to",
            "supply_kind",
            "protection_class",
            "two_wire",
            "rated_watt",
            "idle_watt",
            "idle_watt_source",
            "features",
            "hazards",
            "primary",
            "supplies",
            "secondaries",
            "rails",
            "reservoirs",
            "cell",
            "mains_parts",
            "cord_length_m",
            "cord_mm2",
            "reset_procedure",
            "serial_rule",
            "known_faults",
            "channels",
            "electrolytics",
            "valves",
            "controls",
            "pictures",
            "note",
            "version",
        ]
        read_only_fields = fields

    @extend_schema_field(HazardOut(many=True))
    def get_hazards(self, sheet: ModelSheet) -> list[dict[str, str]]:
        return hazard_rows(sheet.hazards)


@extend_schema_view(list=extend_schema(parameters=[Q]))
@extend_schema(tags=["model sheets"])
class ModelSheetViewSet(
    mixins.ListModelMixin, mixins.RetrieveModelMixin, GenericViewSet[ModelSheet]
):
    permission_classes = [IsStaff]
    lookup_value_converter = "uuid"
    queryset = ModelSheet.objects.none()

    def get_serializer_class(self) -> type[serializers.ModelSerializer[ModelSheet]]:
        return ModelSheetRowOut if self.action == "list" else ModelSheetOut

    def get_queryset(self) -> QuerySet[ModelSheet]:
        sheets = model_sheets_visible_to(self.request.user)
        scrap = scrap_in(self.request)
        return model_sheet_matches(scrap, sheets) if scrap else sheets
