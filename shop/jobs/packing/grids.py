"""Grids: readings in rows and columns. A ramp's rows are settings, a table's have titles."""

from __future__ import annotations

from typing import Any, NamedTuple

from django.utils.translation import gettext as _

from shop.calc.quantities import RULES, Quantity
from shop.jobs.packing.bands import band_of, number, require_in_order, seconds_of, work_named
from shop.jobs.packing.loops import turns_of
from shop.jobs.packing.values import NotKnown, Values

Made = dict[str, Any]


def ramp_of(ramp: dict[str, Any], values: Values) -> tuple[Made, list[str]]:
    """Rows and columns of a ramp with their limits, and what is not known of them."""
    try:
        made, why = _settings(ramp, values.evaluate(ramp["rows"]), values), []
    except NotKnown as missing:
        made, why = _settings(ramp, [], values), [missing.reason]
    except (AttributeError, TypeError, ValueError) as error:  # rows that no answer should have
        made = _settings(ramp, [], values)
        why = [_("The settings cannot be worked out: %s") % error]
    stop_rules = [values.text(text) for text in ramp.get("stop_rules", [])]
    seconds, missing_time = seconds_of(ramp["dwell_seconds"], values)
    why += [missing_time] if missing_time else []
    source = work_named(ramp["rows"], values)
    made |= {"limits_from": source} if source else {}
    return {**made, "dwell_seconds": seconds or 0, "stop_rules": stop_rules}, why


def _settings(ramp: dict[str, Any], rows: list[Any], values: Values) -> Made:
    """Raises ValueError for rows along which no limits can run."""
    made = [_setting(row, index, ramp) for index, row in enumerate(rows, 1)]
    volts = [row["set_volt"] for row in made]
    along = any(column.get("along") for column in ramp["columns"])
    if along and (None in volts or len(set(volts)) < len(volts)):
        raise ValueError(_("two settings have the same volts, or one has none"))
    columns = [_column(c, _limits_along(c, rows), values) for c in ramp["columns"]]
    return {"rows": made, "columns": columns}


def _setting(row: dict[str, Any], index: int, ramp: dict[str, Any]) -> Made:
    names = ("set_percent", "set_volt")
    return {"id": f"r{index}", **{name: number(row.get(ramp.get(name, name))) for name in names}}


def _limits_along(column: dict[str, Any], rows: list[Any]) -> Made | None:
    if "low" not in column and "high" not in column:
        return None
    pairs = [[_limit(row, column, "low"), _limit(row, column, "high")] for row in rows]
    for low, high in pairs:
        require_in_order(low, high)
    return {"along": column.get("along"), "rows": pairs}


def _limit(row: dict[str, Any], column: dict[str, Any], side: str) -> float | None:
    return number(row.get(column[side])) if side in column else None


def _column(column: dict[str, Any], band: Made | None, values: Values) -> Made:
    return {
        "key": column["key"],
        "quantity": column["quantity"],
        "unit": RULES[Quantity(column["quantity"])].unit,
        "title": values.text(column["title"]),
        "required": column.get("required", True),
        "band": band,
    }


class _Row(NamedTuple):
    """One row of a table: its own limits by column, and what can be named in it."""

    title: str
    limits: dict[str, Any]
    values: Values


def table_of(table: dict[str, Any], values: Values) -> tuple[Made, list[str]]:
    """Rows and columns of a table with their limits, and what is not known of them."""
    rows, why = _rows(table["rows"], values)
    columns = []
    for column in table["columns"]:
        values.patience.spend(len(rows))
        band, missing = _limits(column, rows)
        columns.append(_column(column, band, values))
        why += missing
    titles = [_titled(row, index, table["columns"]) for index, row in enumerate(rows, 1)]
    return {"rows": titles, "columns": columns}, why


def _titled(row: _Row, index: int, columns: list[dict[str, Any]]) -> Made:
    bands = [row.limits.get(column["key"], column.get("band")) for column in columns]
    source = work_named(bands, row.values)
    made = {"id": f"r{index}", "title": row.title, "set_percent": None, "set_volt": None}
    return {**made, "limits_from": source} if source else made


def _rows(rows: Any, values: Values) -> tuple[list[_Row], list[str]]:
    """The rows, and why there are none where their list is not known."""
    if isinstance(rows, list):
        return [_Row(values.text(r["title"]), r.get("limits", {}), values) for r in rows], []
    turns = turns_of(rows, values)
    if turns:
        return [_Row(turn.text(rows["title"]), {}, turn) for turn in turns], []
    try:
        values.get(rows["over"])
    except NotKnown as missing:
        return [], [missing.reason]
    return [], []


def _limits(column: dict[str, Any], rows: list[_Row]) -> tuple[Made | None, list[str]]:
    """The limits of a column in every row. None where no row was to have any."""
    wanted = [row.limits.get(column["key"], column.get("band")) for row in rows]
    if not any(wanted):
        return None, []
    # Bands along another reading do not belong into a table, so no step is ever named.
    found = [band_of(band, row.values, _no_step) for band, row in zip(wanted, rows, strict=True)]
    bands = [band or {} for band, _why in found]
    made: Made = {"along": None, "rows": [[b.get("low"), b.get("high")] for b in bands]}
    if any(b.get("nominal") is not None for b in bands):
        made["nominal"] = [b.get("nominal") for b in bands]
    return made, [why for _band, why in found if why]


def _no_step(_name: str) -> list[str]:
    return []
