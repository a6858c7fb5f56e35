"""What a person enters on one step: as named, or as on a sound unit."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from shop.benches.models import Meter
from shop.calc.decimals import canonical
from shop.calc.judging import band_at
from shop.calc.quantities import Quantity
from shop.calc.readings import parse_reading
from shop.jobs.record.judged import STATES, accuracy_for, number_on
from shop.jobs.record.state import SETTLED_BY, Standing, Step, cells_of

# Kinds of steps whose readings stand in rows and columns.
GRIDS = ("ramp", "table")


class Told(NamedTuple):
    """One entry to be: its kind and value, and how long it took until it could be made."""

    kind: str
    value: dict[str, Any]
    seconds: float = 0.0


def told(asked: Step, said: str, meters: Sequence[Meter]) -> Told:
    """What was said of a step or a cell: a choice by its key, a reading or a note as typed."""
    kind = asked.get("kind", "reading")
    if kind == "look":
        return Told("choice", {"choice": said})
    if kind == "note":
        return Told("note", {"text": said})
    return Told("reading", _read(asked, said, meters), asked.get("hold", 0.0))


def good_answer(asked: Step, standing: Standing, at: datetime, meters: Sequence[Meter]) -> Told:
    """What a person would record on a sound unit."""
    kind = asked.get("kind", "reading")
    if kind == "reading":
        return told(asked, _good_value(asked, standing), meters)
    if kind == "look":
        return told(asked, _good_choice(asked["choices"]), meters)
    if kind == "note":
        return told(asked, "As it should be.", meters)
    if kind == "timer":
        return _waited(asked["seconds"] or 0, at)
    if kind == "take_part":
        part = {"part": asked["part"]["code"], "quantity": asked["quantity"]}
        return Told("part", part)
    return Told(SETTLED_BY[kind], {})


def cells_asked(step: Step, named: Collection[str]) -> Iterator[tuple[str, Step]]:
    """(cell, what it asks for) of the required columns, and of those that are named."""
    last = step["columns"][-1]["key"]
    for cell, column, index in cells_of(step):
        if column["required"] or cell in named:
            hold = step.get("dwell_seconds") or 0.0 if column["key"] == last else 0.0
            yield cell, {**column, "kind": "reading", "hold": hold, **_cell(step, column, index)}


def _cell(step: Step, column: Step, index: int) -> Step:
    """The limits of a cell's own row; the column `set` of a ramp is read as it was set."""
    set_volt = step["rows"][index].get("set_volt")
    if column["key"] == "set" and set_volt is not None:
        low = high = set_volt
    elif column["band"] is None:
        low = high = None
    else:
        low, high = column["band"]["rows"][index]
    kinds = column.get("meter_kinds") or step.get("meter_kinds") or []
    return {"band": {"low": low, "high": high}, "meter_kinds": kinds}


def _good_choice(choices: list[dict[str, Any]]) -> str:
    passing = [choice["key"] for choice in choices if choice.get("verdict") == "pass"]
    return str((passing or [choices[0]["key"]])[0])


def _good_value(asked: Step, standing: Standing) -> str:
    """A value well inside the limits that hold now, to four digits."""
    low, high = _limits(asked.get("band") or {}, standing)
    if low is not None and high is not None:
        value = low + (high - low) * 0.4
    elif high is not None:
        value = high * 0.4
    else:
        value = low * 10 if low is not None else 1.0
    return canonical(f"{value:.4g}")


def _limits(band: dict[str, Any], standing: Standing) -> tuple[float | None, float | None]:
    if "along" not in band:
        return band.get("low"), band.get("high")
    points = [(x, low, high) for x, low, high in band["points"]]
    found = band_at(points, number_on(standing, band["along"]) or 0.0)
    return (found.low, found.high) if found else (None, None)


def _read(asked: Step, typed: str, meters: Sequence[Meter]) -> dict[str, Any]:
    """A reading as a phone sends it, on a meter of a wanted kind."""
    reading = parse_reading(typed, Quantity(asked["quantity"]))
    meter = _meter_for(asked, meters)
    return {
        "as_typed": typed,
        "value_text": reading.text,
        "unit": reading.unit,
        "state": STATES[reading.state],
        "meter": str(meter.id) if meter else None,
        "quantity": asked["quantity"],
    }


def _meter_for(asked: Step, meters: Sequence[Meter]) -> Meter | None:
    """The first meter that can read it, of the kinds in the order in which the step names them."""
    by_kind = [m for kind in asked.get("meter_kinds") or [] for m in meters if kind in m.kinds]
    exact = [m for m in by_kind if accuracy_for(m.accuracy, asked["quantity"])]
    return next(iter([*exact, *by_kind]), None)


def _waited(seconds: float, at: datetime) -> Told:
    times = {
        "started_at": at.isoformat(),
        "ended_at": (at + timedelta(seconds=seconds)).isoformat(),
    }
    return Told("timer", times, seconds)
