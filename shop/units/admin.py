from django.contrib import admin

from shop.units.models import ModelSheet, Piece, Shelf, Unit


class PieceInline(admin.TabularInline):  # type: ignore[type-arg]  # generic only in the stubs
    model = Piece
    extra = 0


@admin.register(ModelSheet)
class ModelSheetAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("make", "model", "kind", "supply_kind")
    search_fields = ("make", "model")
    list_filter = ("supply_kind",)


@admin.register(Unit)
class UnitAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("code", "make", "model", "serial", "do_not_power")
    search_fields = ("code", "make", "model", "serial")
    raw_id_fields = ("owner", "model_sheet", "power_changed_by")
    inlines = (PieceInline,)


@admin.register(Shelf)
class ShelfAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("name", "code")
