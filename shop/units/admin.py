from django.contrib import admin
from django.db.models import Model
from django.http import HttpRequest

from shop.units.models import ModelSheet, ModelSheetChange, Piece, Shelf, Unit


class PieceInline(admin.TabularInline):  # type: ignore[type-arg]  # generic only in the stubs
    model = Piece
    extra = 0


class ReadOnly(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    """Written in the app, where it is checked and its history kept."""

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Model | None = None) -> bool:
        return False


@admin.register(ModelSheet)
class ModelSheetAdmin(ReadOnly):
    list_display = ("make", "model", "kind", "supply_kind")
    search_fields = ("make", "model")
    list_filter = ("supply_kind",)


@admin.register(ModelSheetChange)
class ModelSheetChangeAdmin(ReadOnly):
    list_display = ("sheet", "version", "field", "by", "at")


@admin.register(Unit)
class UnitAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("code", "make", "model", "serial", "do_not_power")
    search_fields = ("code", "make", "model", "serial")
    raw_id_fields = ("owner", "model_sheet", "power_changed_by")
    inlines = (PieceInline,)


@admin.register(Shelf)
class ShelfAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("name", "code")
