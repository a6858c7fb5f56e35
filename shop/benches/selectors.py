"""Reads of benches and meters."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any, Final

from django.db.models import QuerySet

from shop.benches.models import Bench, Calibration, Meter, OfferedReading
from shop.calc.quantities import Quantity
from shop.calc.readings import reading_said, said_plainly

OFFERED_FOR: Final = timedelta(minutes=15)
MOST_LOOKED_AT: Final = 50


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


def offers_on(
    bench: Bench, now: datetime, *, since: datetime | None = None
) -> list[OfferedReading]:
    """The newest reading that each meter on a bench offers, newest first; later than `since`."""
    oldest = max(since or now - OFFERED_FOR, now - OFFERED_FOR)
    rows = OfferedReading.objects.filter(bench=bench, taken_at__gt=oldest)
    newest: dict[Any, OfferedReading] = {}
    for row in rows.select_related("meter").order_by("-taken_at")[:MOST_LOOKED_AT]:
        newest.setdefault(row.meter_id, row)
    return list(newest.values())


def offer_card(offer: OfferedReading, now: datetime) -> dict[str, Any]:
    """An offered reading as a phone shows it; `typed` is what a tech would have typed.

    Its age is told, since a phone's own clock may be wrong.
    """
    reading = reading_said(offer.said, Quantity(offer.quantity))
    return {
        "id": offer.id,
        "meter": offer.meter_id,
        "meter_name": offer.meter.name,
        "quantity": offer.quantity,
        "typed": said_plainly(reading),
        "said": offer.said,
        "taken_at": offer.taken_at,
        "age_seconds": max(0.0, (now - offer.taken_at).total_seconds()),
    }
