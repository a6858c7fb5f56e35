from django.apps import AppConfig


class RepairsConfig(AppConfig):
    name = "shop.repairs"
    label = "repairs"
