from django.apps import AppConfig


class StockConfig(AppConfig):
    name = "shop.stock"
    label = "stock"

    def ready(self) -> None:
        from shop.stock import services  # noqa: F401  # registers what the outbox may ask for
