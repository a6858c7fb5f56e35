from django.apps import AppConfig


class BillingConfig(AppConfig):
    name = "shop.billing"
    label = "billing"

    def ready(self) -> None:
        from shop.billing import requirements  # noqa: F401  # registers what handing back requires
