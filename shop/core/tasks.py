"""Thin entries for Celery."""

from __future__ import annotations

from celery import shared_task

from shop.core import outbox, services


@shared_task(name="core.sweep_outbox")
def sweep_outbox() -> None:
    services.beat_heart(name="worker")
    outbox.sweep()


@shared_task(name="core.beat_heartbeat")
def beat_heartbeat() -> None:
    services.beat_heart(name="beat")
