from django.apps import AppConfig


class NoticesConfig(AppConfig):
    name = "shop.notices"
    label = "notices"

    def ready(self) -> None:
        from shop.notices import services  # noqa: F401  # registers its handlers of the outbox
