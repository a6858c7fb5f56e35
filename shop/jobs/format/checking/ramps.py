"""Checks of ramps: rows from an answer, columns with their limits."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.calc.quantities import RULES, Quantity
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Path
from shop.jobs.format.shapes import NoSuchPath


def check_ramp(ramp: dict[str, Any], path: Path, checker: Checker) -> None:
    """The rows can exist, each column reads a field that rows have, units fit."""
    checker.expression(ramp["rows"], (*path, "rows"))
    checker.expression(ramp["dwell_seconds"], (*path, "dwell_seconds"))
    fields = _fields_of_rows(ramp["rows"], checker)
    for name in ("set_percent", "set_volt"):
        _field(ramp.get(name), fields, (*path, name), checker)
    keys = [column["key"] for column in ramp["columns"]]
    for index, column in enumerate(ramp["columns"]):
        _column(column, keys, index, fields, (*path, "columns", index), checker)
    for index, text in enumerate(ramp.get("stop_rules", [])):
        checker.text(text, (*path, "stop_rules", index))


def _column(
    column: dict[str, Any],
    keys: list[str],
    index: int,
    fields: set[str] | None,
    path: Path,
    checker: Checker,
) -> None:
    checker.text(column["title"], (*path, "title"))
    if keys.index(column["key"]) < index:
        checker.add((*path, "key"), _("The key %r stands twice.") % column["key"])
    for name in ("low", "high"):
        _field(column.get(name), fields, (*path, name), checker)
    if column.get("along") == "set" and "set" not in keys[:index]:
        checker.add((*path, "along"), _("There is no earlier column 'set' to run along."))
    rule = RULES[Quantity(column["quantity"])]
    if column.get("unit", rule.unit) not in (rule.unit, rule.symbol):
        checker.add((*path, "unit"), _("The unit of %s is %s.") % (column["quantity"], rule.unit))


def _field(name: str | None, fields: set[str] | None, path: Path, checker: Checker) -> None:
    if name is not None and fields is not None and name not in fields:
        checker.add(path, _("The rows have no field %r.") % name)


def _fields_of_rows(rows: dict[str, Any], checker: Checker) -> set[str] | None:
    """Names of the fields of a row, as far as they can be known."""
    named = f"work.{rows['work']}" if "work" in rows else rows.get("fact")
    if named is None:
        return set(rows["each"]["take"]["object"]) if _builds_rows(rows) else None
    try:
        shape = checker.scope.shape(named, whole_list=True)
    except NoSuchPath:
        return None
    row = shape[0] if isinstance(shape, list) else None
    return set(row) if isinstance(row, dict) else None


def _builds_rows(rows: dict[str, Any]) -> bool:
    return "object" in rows.get("each", {}).get("take", {})
