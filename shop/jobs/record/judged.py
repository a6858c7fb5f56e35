"""The server's verdict on a reading: the pack's limits and rule, the meter's accuracy as kept."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import msgspec

from shop.calc.judging import (
    Accuracy,
    Band,
    Rule,
    Verdict,
    band_at,
    expanded_uncertainty,
    judge,
    judge_over_range,
    meter_limit,
)
from shop.calc.quantities import Quantity
from shop.calc.readings import Reading, State, parse_reading, reading_said
from shop.calc.working import BadInput
from shop.jobs.errors import UnknownStep, ValueUnreadable
from shop.jobs.record.state import Standing, Step, cells_of, is_grid
from shop.jobs.record.wire import ReadingValue

NO_LIMITS = Band(None, None)
STATES = {
    State.VALUE: "measured",
    State.OVER_RANGE: "over_range",
    State.NOT_MEASURED: "not_measured",
}


class Judged(msgspec.Struct, frozen=True):
    """A reading with its verdict. Values in SI units."""

    reading: Reading
    verdict: Verdict
    band: Band
    rule: Rule
    uncertainty: float | None

    def as_kept(self) -> dict[str, Any]:
        """What is kept beside the phone's own opinion."""
        return {
            "low": self.band.low,
            "high": self.band.high,
            "rule": self.rule.value,
            "expanded_uncertainty": self.uncertainty,
            "verdict": self.verdict.value,
        }


def read_again(value: ReadingValue, quantity: str) -> Reading:
    """Parse what was typed once more. Raises ValueUnreadable if the phone read something else."""
    try:
        reading = parse_reading(value.as_typed, Quantity(quantity))
    except BadInput as bad:
        raise ValueUnreadable(bad.reason) from bad
    except ValueError as error:
        raise ValueUnreadable(str(error)) from error
    sent = (value.state, value.value_text, value.unit)
    if sent != (STATES[reading.state], reading.text, reading.unit):
        raise ValueUnreadable(f"{value.as_typed!r} is {reading.text} {reading.unit} here")
    if value.instrument:
        _require_as_said(reading, value.instrument.said, Quantity(quantity))
    return reading


def _require_as_said(reading: Reading, said: str, quantity: Quantity) -> None:
    """What was taken from an instrument is what it said. Raises ValueUnreadable."""
    try:
        heard = reading_said(said, quantity)
    except BadInput as bad:
        raise ValueUnreadable(bad.reason) from bad
    if (heard.state, heard.text) != (reading.state, reading.text):
        raise ValueUnreadable(f"{said!r} is {heard.text} {heard.unit} here, not {reading.text}")


def judge_reading(
    reading: Reading, band: Band, rule: Rule, accuracy: Mapping[str, Any] | None
) -> Judged:
    """The verdict on a reading by its limits, its rule and the accuracy of the meter."""
    exact = _accuracy(accuracy)
    if reading.si is None:
        verdict = Verdict.NOT_JUDGED
        if reading.state is State.OVER_RANGE:
            verdict = judge_over_range(_surely_above(accuracy, exact), band.low, band.high)
        return Judged(reading, verdict, band, rule, None)
    uncertainty = expanded_uncertainty(reading.si, exact) if exact else None
    verdict = judge(reading.si, band.low, band.high, uncertainty or 0.0, rule)
    return Judged(reading, verdict, band, rule, uncertainty)


def _accuracy(row: Mapping[str, Any] | None) -> Accuracy | None:
    if row is None:
        return None
    return Accuracy(float(row["percent"]), float(row["counts"]), float(row["resolution"]))


def _surely_above(row: Mapping[str, Any] | None, exact: Accuracy | None) -> float | None:
    """What an over-range reading is surely above: the end of the range less the meter's error."""
    if row is None or exact is None or row.get("range_end") is None:
        return None
    end = float(row["range_end"])
    return end - meter_limit(end, exact)


def accuracy_for(accuracy: list[dict[str, Any]], quantity: str) -> dict[str, Any] | None:
    return next((row for row in accuracy if row["quantity"] == quantity), None)


def limits_of(step: Step, name: str, standing: Standing) -> tuple[str, Band]:
    """(quantity, limits that hold now) of a reading step or of one cell of a grid."""
    if is_grid(step):
        return _limits_of_cell(step, name, standing)
    band = step.get("band")
    if not band:
        return step["quantity"], NO_LIMITS
    if "along" not in band:
        return step["quantity"], Band(band["low"], band["high"])
    return step["quantity"], _along(band["points"], number_on(standing, band["along"]))


def _limits_of_cell(step: Step, name: str, standing: Standing) -> tuple[str, Band]:
    for cell, column, index in cells_of(step):
        if cell == name:
            return column["quantity"], _cell_band(step, column, index, standing)
    raise UnknownStep(f"{name} is no cell of this step")


def _cell_band(step: Step, column: dict[str, Any], index: int, standing: Standing) -> Band:
    """Of its own row, or along the measured output of the variable transformer over all rows.

    Where that was not measured, or beyond the first and last row, those of its own row hold.
    """
    band = column["band"]
    if band is None:
        return NO_LIMITS
    own = Band(*band["rows"][index])
    measured = number_on(standing, f"{step['id']}/{step['rows'][index]['id']}/set")
    if band["along"] is None or measured is None:
        return own
    pairs = zip(step["rows"], band["rows"], strict=True)
    points = sorted((row["set_volt"], low, high) for row, (low, high) in pairs)
    return band_at(points, measured) or own


def _along(points: list[list[Any]], x: float | None) -> Band:
    """Limits along another reading; none where it was not taken or runs past the points."""
    if x is None:
        return NO_LIMITS
    return band_at([(at, low, high) for at, low, high in points], x) or NO_LIMITS


def number_on(standing: Standing, name: str) -> float | None:
    """The number that stands on a step, in SI units."""
    entries = standing.get(name)
    return entries[-1].value_si if entries and entries[-1].kind == "reading" else None
