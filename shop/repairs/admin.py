"""Repairs to look at. A stage is changed on the screens, where the table of stages is asked."""

from django.contrib import admin
from django.http import HttpRequest

from shop.repairs.models import Repair, RepairPhoto, StageEvent


class StageEventInline(admin.TabularInline):  # type: ignore[type-arg]  # generic only in the stubs
    model = StageEvent
    extra = 0
    can_delete = False
    readonly_fields = ("from_stage", "to_stage", "at", "by", "reason")

    def has_add_permission(self, request: HttpRequest, obj: Repair | None = None) -> bool:
        return False


class RepairPhotoInline(admin.TabularInline):  # type: ignore[type-arg]  # generic only in the stubs
    model = RepairPhoto
    extra = 0


@admin.register(Repair)
class RepairAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("number", "stage", "unit", "customer", "due_on", "assigned_to")
    list_filter = ("stage",)
    list_select_related = ("unit", "customer", "assigned_to")
    search_fields = ("number", "unit__code", "unit__serial", "customer__name")
    raw_id_fields = ("unit", "customer")
    inlines = (StageEventInline, RepairPhotoInline)
    readonly_fields = (
        "number",
        "stage",
        "stage_since",
        "version",
        "content_hash",
        "booked_in_at",
        "booked_in_by",
        "closed_at",
        "closed_up_at",
        "closed_up_by",
        "signature",
        "fetched_signature",
    )

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Repair | None = None) -> bool:
        return False
