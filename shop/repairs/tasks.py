"""Thin entries for Celery."""

from __future__ import annotations

from celery import shared_task

from shop.repairs import services


@shared_task(name="repairs.forget_stale_parts")
def forget_stale_parts() -> None:
    services.forget_stale_parts()
