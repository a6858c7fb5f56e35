"""What the tech of the tests answers, by step; anything else is answered so that it passes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final, NamedTuple

from shop.calc.decimals import canonical
from shop.calc.judging import band_at

Step = Mapping[str, Any]


class Typed(NamedTuple):
    """A reading as typed on the keypad, and the word the screen judges it with."""

    text: str
    verdict: str | None = None


# A working day's values for a unit of 1992, as a tech would write them.
MAINS_CONVERSION: Final[dict[str, Typed]] = {
    "dead_pins": Typed("0.4", "pass"),
    "dead_prove_before": Typed("30.1", "pass"),
    "dead_prove_after": Typed("30.1", "pass"),
    "res_found.1": Typed("1.2", "pass"),
    "res_discharged.1": Typed("12m", "pass"),
    "primary_ohm.1": Typed("96", "pass"),
    "insulation_secondary": Typed("200M", "pass"),
    "insulation_chassis": Typed("180M", "pass"),
    "thermal_link.2": Typed("0.21", "pass"),
}
BACKUP_CELL: Final[dict[str, Typed]] = {
    "cell_volt_found": Typed("1.1", "fail"),  # flat, which is why it came; blocks nothing
    "drain_read": Typed("2.4u", "pass"),
}
SERIES_LAMP: Final[dict[str, Typed]] = {
    "earth": Typed("90mΩ", "pass"),
    "insulation": Typed("150M", "pass"),
    "line_volt": Typed("118", "pass"),  # common practice, no source: called 120 V, is 118 V
}


def choice_that_passes(step: Step) -> str:
    choices = step["choices"]
    return str(next((c["label"] for c in choices if c["verdict"] == "pass"), choices[0]["label"]))


def value_inside(band: Mapping[str, Any] | None, read: Mapping[str, float]) -> str:
    """A value well inside a band, in the base unit; without a band, one."""
    if band is None:
        return "1"
    if "along" in band:
        found = band_at([tuple(point) for point in band["points"]], read[band["along"]])
        assert found is not None, band
        return middle(found.low, found.high)
    return middle(band["low"], band["high"])


def middle(low: float | None, high: float | None) -> str:
    if low is None and high is None:
        return "1"
    if high is None:
        return canonical(repr((low or 0.0) * 10 + 1))
    value = high / 2 if low is None else (low + high) / 2
    return canonical(f"{value:.6g}")
