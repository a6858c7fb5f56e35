from django.apps import AppConfig


class JobsConfig(AppConfig):
    name = "shop.jobs"
    label = "jobs"

    def ready(self) -> None:
        # Importing registers: requirements of stages, handlers of the outbox.
        from shop.jobs import requirements  # noqa: F401
        from shop.jobs.services import following  # noqa: F401
