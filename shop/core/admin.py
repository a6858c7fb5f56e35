from django.contrib import admin
from django.contrib.auth.admin import UserAdmin

from shop.core.models import Device, OutboxEvent, Person, Shop


@admin.register(Person)
class PersonAdmin(UserAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("username", "name", "role", "is_active")
    fieldsets = (
        (None, {"fields": ("username", "password")}),
        ("Shop", {"fields": ("name", "role", "language", "email")}),
        ("Access", {"fields": ("is_active", "is_staff", "is_superuser")}),
    )
    add_fieldsets = ((None, {"fields": ("username", "name", "role", "password1", "password2")}),)


admin.site.register(Shop)
admin.site.register(Device)
admin.site.register(OutboxEvent)
