"""What changed on a model sheet, in sentences that a tech reads."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

from django.utils.translation import gettext as _

from shop.calc.shown import farads
from shop.units.models import ModelSheetChange
from shop.units.shapes import sheet_schema

# By which a row of a list is known again, the first that it has.
ROW_KEYS = ("name", "fault", "terminal", "caption", "sha256")
# From here on a change is told by how many rows came and went.
MOST_SENTENCES = 12
Schema = dict[str, Any]


def change_rows(changes: list[ModelSheetChange]) -> list[dict[str, Any]]:
    """Changes as screens show them; `by` should be fetched with them."""
    schema = sheet_schema()
    fields = schema["$defs"]["Sheet"]["properties"]
    return [
        {
            "id": change.id,
            "version": change.version,
            "field": change.field,
            "title": fields[change.field].get("title", change.field),
            "sentences": _sentences(schema, fields[change.field], change),
            "why": change.why,
            "by_name": change.by.name if change.by else "",
            "at": change.at,
        }
        for change in changes
    ]


def _sentences(schema: Schema, field: Schema, change: ModelSheetChange) -> list[str]:
    said = list(_differences(schema, field, change.before, change.after, field.get("title", "")))
    if len(said) <= MOST_SENTENCES:
        return said
    more = _("and %d more") % (len(said) - MOST_SENTENCES)
    return [*said[:MOST_SENTENCES], more]


def _differences(
    schema: Schema, field: Schema, before: Any, after: Any, name: str
) -> Iterator[str]:
    """A sentence for each value that is not as it was. `name` leads to it: "Rails, +5 V"."""
    field = _resolved(schema, field)
    if before == after:
        return
    if field.get("properties") and (before or after):
        for key, inner in field["properties"].items():
            path = f"{name}, {inner.get('title', key)}"
            old, new = (before or {}).get(key), (after or {}).get(key)
            yield from _differences(schema, inner, old, new, path)
    elif _is_rows(schema, field):
        yield from _rows(schema, field["items"], before or [], after or [], name)
    else:
        shown = partial(_shown, schema, field)
        yield _("%(what)s: %(after)s instead of %(before)s.") % {
            "what": name, "after": shown(after), "before": shown(before),
        } if not _is_nothing(before) else f"{name}: {shown(after)}."  # fmt: skip


def _is_rows(schema: Schema, field: Schema) -> bool:
    return field.get("type") == "array" and "properties" in _resolved(schema, field["items"])


def _rows(schema: Schema, row: Schema, before: list[Any], after: list[Any], name: str) -> Any:
    """Rows are known again by their names, wherever they stand now."""
    old, new = _by_name(before), _by_name(after)
    for key in [key for key in old if key not in new]:
        yield _("%(what)s: taken off.") % {"what": f"{name}, {key}"}
    for key, now in new.items():
        if key not in old:
            yield _("%(what)s: added (%(row)s).") % {
                "what": f"{name}, {key}", "row": _in_words(schema, row, now),
            }  # fmt: skip
        else:
            yield from _differences(schema, row, old[key], now, f"{name}, {key}")
    if list(old) != list(new) and sorted(old) == sorted(new):
        yield _("%(what)s: put into another order.") % {"what": name}


def _by_name(rows: list[Any]) -> dict[str, Any]:
    """Rows by what they are called; a second of the same name gets its number."""
    named: dict[str, Any] = {}
    for place, row in enumerate(rows, 1):
        key = next((str(row[key]) for key in ROW_KEYS if row.get(key)), str(place))
        named[key if key not in named else f"{key} ({place})"] = row
    return named


def _in_words(schema: Schema, row: Schema, values: dict[str, Any]) -> str:
    """The rest of a row: "Nominal 5 V, At least 4.85 V"."""
    fields = _resolved(schema, row)["properties"]
    said = [
        f"{field.get('title', key)} {_shown(schema, field, values[key])}"
        for key, field in fields.items()  # PostgreSQL keeps no order of keys
        if key != "name" and not _is_nothing(values.get(key))
    ]
    return ", ".join(said) or "–"


def _resolved(schema: Schema, field: Schema) -> Schema:
    """A field's own shape: references followed, "or nothing" left away."""
    if others := [one for one in field.get("anyOf", []) if one.get("type") != "null"]:
        field = {**field, **_resolved(schema, others[0])} if len(others) == 1 else field
    if name := field.get("$ref", "").rpartition("/")[2]:
        field = {**schema["$defs"][name], **field}
    return field


def _is_nothing(value: Any) -> bool:
    return value is None or value in ("", [], {})


def _shown(schema: Schema, field: Schema, value: Any) -> str:
    """One value as people read it, with its unit."""
    field = _resolved(schema, field)
    if _is_nothing(value):
        return _("nothing")
    if isinstance(value, bool):
        return _("yes") if value else _("no")
    if isinstance(value, int | float):
        unit = field.get("x-unit", "")
        return farads(value) if unit == "F" else f"{value:.6g} {unit}".strip()
    if isinstance(value, list):
        return _list_shown(schema, field, value)
    return str(field.get("x-labels", {}).get(value, f"“{value}”"))


def _list_shown(schema: Schema, field: Schema, value: list[Any]) -> str:
    inner = field.get("items", {})
    if all(isinstance(one, list) for one in value):  # links
        return ", ".join("–".join(map(str, pair)) for pair in value)
    if any(isinstance(one, dict) for one in value):
        return ", ".join(_by_name(value))
    return ", ".join(_shown(schema, inner, one).strip("“”") for one in value)
