"""The Celery app and its beat schedule. The broker is a wake-up only: outbox rows are the truth."""

from __future__ import annotations

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

app = Celery("shop")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()

# Each tick only looks for waiting rows; a lost or doubled tick changes nothing.
app.conf.beat_schedule = {
    "sweep the outbox": {"task": "core.sweep_outbox", "schedule": 1.0},
    "heartbeat": {"task": "core.beat_heartbeat", "schedule": 20.0},
}
