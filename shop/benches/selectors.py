"""Reads of benches and meters."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db.models import QuerySet

from shop.benches.models import Bench, Calibration, Meter


def benches() -> QuerySet[Bench]:
    return Bench.objects.order_by("name")


def meters_in_use(today: date) -> QuerySet[Meter]:
    """Meters that were not retired before today."""
    return Meter.objects.exclude(retired_on__lt=today).order_by("name", "id")


def calibration_state(meter: Meter, today: date) -> str:
    """ "ok", "overdue", or "unknown" when nobody wrote down when it is due."""
    if meter.calibration_due_on is None:
        return "unknown"
    return "overdue" if meter.calibration_due_on < today else "ok"


def all_meters() -> QuerySet[Meter]:
    """Every meter, those put away included, by name."""
    return Meter.objects.order_by("name", "id")


def calibrations_of(meter: Meter) -> QuerySet[Calibration]:
    """The calibrations of a meter, newest first."""
    return meter.calibrations.select_related("noted_by").order_by("-done_on", "-noted_at")


def meter_card(meter: Meter, today: date) -> dict[str, Any]:
    """A meter as screens and packs show it."""
    return {
        "id": meter.id,
        "code": meter.code,
        "name": meter.name,
        "kinds": meter.kinds,
        "due_on": meter.calibration_due_on,
        "state": calibration_state(meter, today),
        "accuracy": meter.accuracy,
    }


def bench_card(bench: Bench) -> dict[str, Any]:
    return {
        "id": bench.id,
        "name": bench.name,
        "volt": bench.volt,
        "hz": bench.hz,
        "lamps": bench.lamps,
    }
