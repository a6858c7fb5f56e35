from django.apps import AppConfig


class UnitsConfig(AppConfig):
    name = "shop.units"
    label = "units"
