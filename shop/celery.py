"""The Celery app and its beat schedule. The broker is a wake-up only: outbox rows are the truth."""

from __future__ import annotations

import os

from celery import Celery

from shop import folder_broker  # noqa: F401 - registers the folder as a broker

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")

app = Celery("shop")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()

# Each tick only looks for waiting rows; a lost or doubled tick changes nothing, and old ones are
# thrown away instead of piling up while no worker is there.
app.conf.beat_schedule = {
    "sweep the outbox": {
        "task": "core.sweep_outbox",
        "schedule": 1.0,
        "options": {"expires": 5},
    },
    "forget stale parts of photos": {
        "task": "repairs.forget_stale_parts",
        "schedule": 3600.0,
        "options": {"expires": 600},
    },
    "heartbeat": {"task": "core.beat_heartbeat", "schedule": 20.0, "options": {"expires": 60}},
}
