from django.apps import AppConfig


class InsightConfig(AppConfig):
    name = "shop.insight"
    label = "insight"
