from django.apps import AppConfig


class CoreConfig(AppConfig):
    name = "shop.core"
    label = "core"

    def ready(self) -> None:
        from django.utils.translation import gettext

        from shop.calc.words import speak_through

        # The calculators know no Django; their sentences are spoken in the reader's language.
        speak_through(gettext)
