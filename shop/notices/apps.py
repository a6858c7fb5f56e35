from django.apps import AppConfig


class NoticesConfig(AppConfig):
    name = "shop.notices"
    label = "notices"
