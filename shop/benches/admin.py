from django.contrib import admin

from shop.benches.models import Bench, Meter


@admin.register(Bench)
class BenchAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("name", "volt", "hz")


@admin.register(Meter)
class MeterAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("name", "code", "calibration_due_on", "retired_on")
    search_fields = ("name", "code", "serial")
