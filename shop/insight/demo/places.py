"""Benches, meters and shelves of the invented shop."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any, NamedTuple

from shop.benches.models import Bench, Calibration, Meter
from shop.calc.codes import Kind
from shop.core.models import Person
from shop.insight.demo.fixed import code, id_at
from shop.units.models import Shelf

BENCHES: tuple[tuple[str, int, int, list[int]], ...] = (
    ("Bench 1, window", 230, 50, [25, 40, 60, 100]),
    ("Bench 2, wall", 230, 50, [25, 40, 60, 100]),
    ("Bench 3, step-down 115 V", 115, 50, [25, 40, 60, 100]),
)
SHELVES = ("Shelf A1", "Shelf A2", "Shelf A3", "Shelf B1", "Shelf B2", "Shelf C1, ready")
ACCURACY = ("quantity", "percent", "counts", "resolution", "range_end")


class MeterFacts(NamedTuple):
    name: str
    kinds: tuple[str, ...]
    # quantity, per cent of reading, counts, weight of one count, and the end of its range, beyond
    # which it shows "over range"
    accuracy: tuple[tuple[str, float, float, float] | tuple[str, float, float, float, float], ...]
    calibrated_days_ago: int


METERS = (
    MeterFacts("Hand meter 1", ("multimeter",), (
        ("voltage_dc", 0.5, 2, 0.01), ("voltage_ac", 0.9, 4, 0.1), ("resistance", 0.8, 2, 0.1),
        ("current_dc", 1.0, 3, 0.0001), ("current_ac", 1.2, 5, 0.0001),
    ), 120),
    MeterFacts("Hand meter 2", ("multimeter",), (
        ("voltage_dc", 0.8, 3, 0.01), ("voltage_ac", 1.2, 5, 0.1), ("resistance", 1.0, 3, 0.1),
        ("current_dc", 1.5, 3, 0.0001), ("current_ac", 1.8, 5, 0.0001),
    ), 402),
    MeterFacts("Bench meter", ("multimeter",), (
        ("voltage_dc", 0.03, 5, 0.001), ("voltage_ac", 0.4, 20, 0.001),
        ("resistance", 0.1, 3, 0.01), ("current_dc", 0.15, 5, 0.000001),
        ("current_ac", 0.6, 20, 0.000001),
    ), 45),
    MeterFacts("Two-pole tester", ("two_pole",), (
        ("voltage_ac", 3, 5, 1), ("voltage_dc", 3, 5, 1),
    ), 200),
    MeterFacts("Safety tester", (
        "safety_tester", "insulation_tester", "earth_tester", "leakage_tester",
    ), (
        ("resistance", 3, 5, 0.01, 200e6), ("current_ac", 5, 2, 0.00001), ("voltage_ac", 1.5, 2, 1),
    ), 90),
    MeterFacts("Power meter", ("power_meter",), (
        ("power", 1.0, 2, 0.1), ("voltage_ac", 0.5, 2, 0.1), ("current_ac", 0.8, 3, 0.001),
    ), 300),
    MeterFacts("Component meter", ("lcr_meter",), (
        ("capacitance", 0.5, 2, 0.00000001), ("resistance", 0.5, 2, 0.01),
        ("inductance", 0.5, 2, 0.000001),
    ), 75),
    MeterFacts("ESR meter", ("esr_meter",), (("resistance", 3, 2, 0.01),), 160),
    MeterFacts("Caliper and feeler gauges", ("length_gauge",), (("length", 0, 2, 0.00001),), 210),
    MeterFacts("Level meter", ("level_meter",), (("level", 0, 3, 0.1), ("ratio", 0, 3, 0.1)), 90),
    MeterFacts("Thermometer", ("thermometer",), (("temperature", 0, 5, 0.1),), 150),
)  # fmt: skip


def build_benches(at: datetime) -> list[Bench]:
    return [
        Bench.objects.create(
            id=id_at(at, name),
            name=name,
            volt=volt,
            hz=hz,
            lamps=[{"watt": watt, "volt": 230} for watt in watts],
        )
        for name, volt, hz, watts in BENCHES
    ]


def hang_up_meters(at: datetime, today: date, by: Person) -> list[Meter]:
    """Each is due a year after it was calibrated; one of them is overdue."""
    return [
        _hang_up(at, today - timedelta(facts.calibrated_days_ago), facts, by) for facts in METERS
    ]


def _hang_up(at: datetime, calibrated_on: date, facts: MeterFacts, by: Person) -> Meter:
    due_on = calibrated_on + timedelta(days=365)
    days = {"calibrated_on": calibrated_on, "calibration_due_on": due_on}
    meter = Meter.objects.create(**_meter(at, facts), **days)
    _note_calibration(meter, calibrated_on, due_on, at, by)
    return meter


def _note_calibration(meter: Meter, done_on: date, due_on: date, at: datetime, by: Person) -> None:
    """The certificate that its days come from."""
    Calibration.objects.create(
        id=id_at(at, f"calibration {meter.name}"),
        meter=meter,
        done_on=done_on,
        due_on=due_on,
        found=Calibration.Found.IN_TOLERANCE,
        certificate=f"K-{meter.serial[1:]}",
        noted_by=by,
        noted_at=at,
    )


def _meter(at: datetime, facts: MeterFacts) -> dict[str, Any]:
    return {
        "id": id_at(at, facts.name),
        "code": code(Kind.METER, facts.name),
        "name": facts.name,
        "kinds": list(facts.kinds),
        "serial": f"N{1000 + facts.calibrated_days_ago}",
        "accuracy": [dict(zip(ACCURACY, row, strict=False)) for row in facts.accuracy],
    }


def build_shelves() -> list[Shelf]:
    return [Shelf.objects.create(code=code(Kind.SHELF, name), name=name) for name in SHELVES]
