from django.apps import AppConfig


class DocumentsConfig(AppConfig):
    name = "shop.documents"
    label = "documents"

    def ready(self) -> None:
        from shop.documents import services  # noqa: F401  # registers its handlers of the outbox
