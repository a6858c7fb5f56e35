"""Limits of readings: worked out now, or not judged with the reason."""

from __future__ import annotations

from math import isfinite
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.judging import band_at
from shop.calc.working import BadInput
from shop.jobs.packing.values import NotKnown, Values, is_number

Names = Any  # a function from a template's step id to the ids it became


def band_of(
    band: dict[str, Any] | None, values: Values, names: Names
) -> tuple[dict[str, Any] | None, str | None]:
    """(band, None), or (None, why there is none)."""
    if band is None:
        return None, None
    try:
        if "along" in band:
            return _along(band, values, names), None
        return _fixed(band, values), None
    except NotKnown as missing:
        return None, missing.reason
    except (TypeError, ValueError, KeyError, BadInput) as error:
        return None, _("The limits cannot be worked out: %s") % error


def work_named(expression: Any, values: Values) -> str | None:
    """The pack's name of the work that limits are taken from, the first; None without one."""
    if isinstance(expression, list):
        return next(filter(None, (work_named(one, values) for one in expression)), None)
    if not isinstance(expression, dict):
        return None
    for word, inner in expression.items():
        path = f"work.{inner}" if word == "work" else inner
        if isinstance(path, str) and path.startswith("work."):
            name = values.work_name(path.split(".")[1])
            return name if name in values.work else None
    return work_named(list(expression.values()), values)


def _fixed(band: dict[str, Any], values: Values) -> dict[str, Any]:
    found: dict[str, Any] = {
        name: number(values.evaluate(band.get(name))) for name in ("low", "high")
    }
    if band.get("nominal") is not None:
        found["nominal"] = number(values.evaluate(band["nominal"]))
    require_in_order(found["low"], found["high"])
    return found


def _along(band: dict[str, Any], values: Values, names: Names) -> dict[str, Any]:
    columns = band.get("columns")
    points = [_point(row, columns) for row in values.evaluate(band["points"])]
    points.sort(key=lambda point: point[0] or 0.0)
    became = names(band["along"])
    band_at([(x or 0.0, low, high) for x, low, high in points], 0.0)  # refuses what does not rise
    if not points or not became:
        raise ValueError(_("there are no points"))
    return {"along": became[0], "points": points}


def _point(row: Any, columns: list[str] | None) -> list[float | None]:
    values = [row[name] for name in columns] if columns else list(row)
    x, low, high = (number(value) for value in values)
    require_in_order(low, high)
    return [x, low, high]


def require_in_order(low: float | None, high: float | None) -> None:
    """Raises ValueError for limits that cross."""
    if low is not None and high is not None and low > high:
        raise ValueError(_("the lower limit is above the upper one"))


def number(value: Any) -> float | None:
    """A finite number, or None for no limit. Raises ValueError for anything else."""
    if value is None:
        return None
    if not is_number(value) or not isfinite(value):
        raise ValueError(_("%r is no number") % (value,))
    return value


def seconds_of(expression: Any, values: Values) -> tuple[float | None, str | None]:
    """(seconds, None), or (None, why they are not known)."""
    try:
        return number(values.evaluate(expression)), None
    except NotKnown as missing:
        return None, missing.reason
    except ValueError as error:
        return None, _("The time cannot be worked out: %s") % error
