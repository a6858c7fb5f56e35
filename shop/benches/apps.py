from django.apps import AppConfig


class BenchesConfig(AppConfig):
    name = "shop.benches"
    label = "benches"
