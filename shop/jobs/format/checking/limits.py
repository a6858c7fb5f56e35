"""Checks of units and limits: a reading with these limits can be taken and can pass."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.calc.judging import band_at
from shop.calc.quantities import RULES, Quantity
from shop.calc.working import BadInput
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Path

Band = dict[str, Any]
SIDES = ("low", "high", "nominal")


def symbol_of(quantity: Any) -> str:
    """The unit of a quantity as people see it; empty for what is no quantity."""
    return RULES[Quantity(quantity)].symbol if isinstance(quantity, str) else ""


def check_unit(fields: dict[str, Any], quantity: Any, path: Path, checker: Checker) -> None:
    """The unit that is named is the one that readings of this quantity have."""
    if "unit" not in fields or not isinstance(quantity, str):
        return
    rule = RULES[Quantity(quantity)]
    if fields["unit"] not in (rule.unit, rule.symbol):
        reason = _("The unit of %s is %s, not %s.")
        checker.add((*path, "unit"), reason % (quantity, rule.unit, fields["unit"]))


def check_fixed_band(band: Band | None, path: Path, checker: Checker, quantity: str | None) -> None:
    """Limits are numbers in the unit of the reading, and some reading lies between them."""
    if not band:
        return
    for name in SIDES:
        checker.number(band.get(name), (*path, name), symbol_of(quantity))
    low, high, nominal = (_plain(band.get(name)) for name in SIDES)
    if low is not None and high is not None and low > high:
        checker.add(path, _("The lower limit is above the upper one."))
    elif nominal is not None and not _inside(nominal, low, high):
        checker.add((*path, "nominal"), _("The nominal value lies outside the limits."))
    if quantity and not _is_possible(low, high, quantity):
        checker.add(path, _("No reading of %s can lie between these limits.") % quantity)


def _is_possible(low: float | None, high: float | None, quantity: str) -> bool:
    rule = RULES[Quantity(quantity)]
    return (low is None or low <= rule.highest) and (high is None or high >= rule.lowest)


def check_points(band: Band, path: Path, checker: Checker) -> None:
    """Points that are written out rise along the other reading, each with its two limits."""
    checker.expression(band["points"], (*path, "points"), whole_list=True)
    if "value" not in band["points"]:
        return
    try:
        points = [_point(row, band.get("columns")) for row in band["points"]["value"]]
        band_at(points, 0.0)
    except (BadInput, TypeError, ValueError, KeyError, OverflowError):
        reason = _("Points are rows of three numbers (where, lower, upper limit) that rise.")
        checker.add((*path, "points"), reason)


def _point(row: Any, columns: list[str] | None) -> tuple[float, float | None, float | None]:
    x, low, high = [row[name] for name in columns] if columns else row
    return float(x), _limit(low), _limit(high)


def _limit(value: Any) -> float | None:
    return None if value is None else float(value)


def _plain(value: Any) -> float | None:
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return value if is_number else None


def _inside(value: float, low: float | None, high: float | None) -> bool:
    return (low is None or low <= value) and (high is None or value <= high)
