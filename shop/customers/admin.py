from django.contrib import admin

from shop.customers.models import Customer


@admin.register(Customer)
class CustomerAdmin(admin.ModelAdmin):  # type: ignore[type-arg]  # generic only in the stubs
    list_display = ("name", "phone", "email", "language")
    search_fields = ("name", "phone", "email")
    exclude = ("phone_digits",)
