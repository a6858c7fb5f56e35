"""Checks of grids: ramps with their rows from an answer, tables with rows of their own."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from shop.calc.schemas import unit_of
from shop.jobs.format.checking.limits import check_fixed_band, check_unit, symbol_of
from shop.jobs.format.checking.values import Checker
from shop.jobs.format.problems import Path
from shop.jobs.format.shapes import NoSuchPath

Column = dict[str, Any]


def check_ramp(ramp: dict[str, Any], path: Path, checker: Checker) -> None:
    """The rows can exist, each column reads a field that rows have, units fit."""
    checker.expression(ramp["rows"], (*path, "rows"), whole_list=True)
    checker.number(ramp["dwell_seconds"], (*path, "dwell_seconds"), "s")
    fields = _fields_of_rows(ramp["rows"], checker)
    for name in ("set_percent", "set_volt"):
        _field(ramp.get(name), fields, (*path, name), checker)
    _columns(ramp["columns"], (*path, "columns"), checker)
    for index, column in enumerate(ramp["columns"]):
        _along(ramp["columns"], index, (*path, "columns", index), checker)
        for name in ("low", "high"):
            at = (*path, "columns", index, name)
            _field(column.get(name), fields, at, checker, symbol_of(column["quantity"]))
    for index, text in enumerate(ramp.get("stop_rules", [])):
        checker.text(text, (*path, "stop_rules", index))


def _along(columns: list[Column], index: int, path: Path, checker: Checker) -> None:
    earlier = [column["key"] for column in columns[:index]]
    if columns[index].get("along") == "set" and "set" not in earlier:
        checker.add((*path, "along"), _("There is no earlier column 'set' to run along."))


def _field(
    name: str | None, fields: set[str] | None, path: Path, checker: Checker, symbol: str = ""
) -> None:
    if name is None:
        return
    if fields is not None and name not in fields:
        checker.add(path, _("The rows have no field %r.") % name)
    if symbol and unit_of(name) not in ("", symbol):
        checker.add(path, _("%s is in %s, this is in %s.") % (name, unit_of(name), symbol))


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


def check_table(table: dict[str, Any], path: Path, checker: Checker, *, blocks: bool) -> None:
    """Rows can exist, their limits are of columns, units fit; what blocks has limits to pass."""
    rows, columns = table["rows"], table["columns"]
    _columns(columns, (*path, "columns"), checker)
    inside = checker
    if isinstance(rows, dict):
        inside = checker.within(checker.loop(rows, (*path, "rows")))
        inside.text(rows["title"], (*path, "rows", "title"))
    for index, column in enumerate(columns):
        at = (*path, "columns", index, "band")
        check_fixed_band(column.get("band"), at, inside, column["quantity"])
    if blocks and not any(_must_pass(column, rows) for column in columns):
        checker.add((*path, "columns"), _("No required column has limits to pass."))
    if isinstance(rows, list):
        _fixed_rows(rows, columns, (*path, "rows"), checker)


def _must_pass(column: Column, rows: Any) -> bool:
    if not column.get("required", True):
        return False
    if "band" in column:
        return True
    return isinstance(rows, list) and any(column["key"] in row.get("limits", {}) for row in rows)


def _fixed_rows(
    rows: list[dict[str, Any]], columns: list[Column], path: Path, checker: Checker
) -> None:
    quantities = {column["key"]: column["quantity"] for column in columns}
    for index, row in enumerate(rows):
        checker.text(row["title"], (*path, index, "title"))
        for key, band in row.get("limits", {}).items():
            at = (*path, index, "limits", key)
            if key not in quantities:
                checker.add(at, _("There is no column %r.") % key)
            check_fixed_band(band, at, checker, quantities.get(key))


def _columns(columns: list[Column], path: Path, checker: Checker) -> None:
    keys = [column["key"] for column in columns]
    for index, column in enumerate(columns):
        checker.text(column["title"], (*path, index, "title"))
        if keys.index(column["key"]) < index:
            checker.add((*path, index, "key"), _("The key %r stands twice.") % column["key"])
        check_unit(column, column["quantity"], (*path, index), checker)
