"""What the facts that templates name are called, and in which unit their numbers are.

The tree itself is `shop.jobs.format.facts`, the words are in `shop.jobs.format.vocabulary`.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any

import msgspec
from django.utils.translation import gettext as _

from shop.calc.quantities import RULES, Quantity
from shop.jobs.format.facts import FACTS
from shop.jobs.format.shapes import ANY, Leaf, Shape
from shop.jobs.format.vocabulary import (
    CHOICES,
    FIELDS,
    KINDS,
    ON_MAINS,
    QUANTITIES,
    TITLES,
    UNITS,
)
from shop.units.shapes import Sheet


def own_title(path: str) -> str | None:
    """What a fact is called where it has words of its own, not yet in the reader's language."""
    return TITLES.get(path) or _sheet_titles().get(path)


@cache
def _sheet_titles() -> dict[str, str]:
    """What is written on a model sheet, by path, as the sheet's own form calls it."""
    schema = msgspec.json.schema(Sheet)
    return dict(_titles("sheet", schema["$defs"]["Sheet"], schema["$defs"]))


def _titles(path: str, shape: dict[str, Any], defs: dict[str, Any]) -> Iterator[tuple[str, str]]:
    for name, field in shape.get("properties", {}).items():
        full = f"{path}.{name}"
        if "title" in field:
            yield full, field["title"]
        for inner in (field, *field.get("anyOf", []), field.get("items", {})):
            if "$ref" in inner:
                yield from _titles(full, defs[inner["$ref"].rpartition("/")[2]], defs)


def title_in_words(path: str) -> str:
    """What a fact is called; one without words of its own by what it is part of."""
    if title := own_title(path):
        return _(title)
    around, _point, name = path.rpartition(".")
    return f"{title_in_words(around)}: {field_in_words(name)}" if around else field_in_words(name)


def field_in_words(name: str) -> str:
    """What one field of a row is called; of a maker's setting as in the list of them."""
    known = FIELDS.get(name) or own_title(f"sheet.supplies.{name}")
    return _(known) if known else name.replace("_", " ")


def choice_in_words(value: Any) -> str:
    known = CHOICES.get(str(value))
    return _(known) if known else str(value)


def unit_of(path: str) -> tuple[str, str | None]:
    """(unit, quantity) of a number, from the last word of its name."""
    unit, quantity = UNITS.get(path.replace(".", "_").rpartition("_")[2], ("", None))
    if quantity in ("voltage_dc", "current_dc") and path.startswith(ON_MAINS):
        quantity = quantity.replace("_dc", "_ac")
    return unit, quantity if quantity in tuple(Quantity) else None


def facts_in_words() -> list[dict[str, Any]]:
    """Every fact a template can name, in the order of the tree, lists with what their rows have."""
    return list(_facts("", FACTS))


def _facts(path: str, tree: dict[str, Shape]) -> Iterator[dict[str, Any]]:
    for name, shape in tree.items():
        full = f"{path}.{name}".lstrip(".")
        yield {"path": full, "title": title_in_words(full), **_kind(full, shape)}
        if isinstance(shape, dict):
            yield from _facts(full, shape)


def _of_row(path: str, row: dict[str, Shape]) -> Iterator[dict[str, Any]]:
    """What a row of a list has; its list need not be said again."""
    for name, shape in row.items():
        full = f"{path}.{name}"
        title = own_title(full)
        named = _(title) if title else field_in_words(name)
        yield {"path": full, "title": named, **_kind(full, shape)}


def _kind(path: str, shape: Shape) -> dict[str, Any]:
    if isinstance(shape, list):
        row = shape[0]
        inner = list(_of_row(path, row)) if isinstance(row, dict) else []
        values = _choices(row) if isinstance(row, Leaf) else None
        return {"type": "list", "choices": values, "rows": inner}
    if isinstance(shape, dict) or shape == ANY:
        return {"type": "object"}
    if shape.type in ("number", "count"):
        unit, quantity = unit_of(path)
        return {"type": "number", "unit": unit, "quantity": quantity}
    return {"type": shape.type, "choices": _choices(shape)}


def _choices(leaf: Leaf) -> list[dict[str, Any]] | None:
    if leaf.type != "choice":
        return None
    return [{"key": value, "title": choice_in_words(value)} for value in leaf.choices]


def quantities_in_words() -> list[dict[str, str]]:
    """Every quantity a reading can have, with its unit."""
    return [
        {"key": key, "title": quantity_in_words(key), "unit": rule.unit, "symbol": rule.symbol}
        for key, rule in RULES.items()
    ]


def quantity_in_words(key: str) -> str:
    return _(QUANTITIES[key])


def kind_in_words(key: str) -> str:
    return _(KINDS[key])


def kinds_in_words() -> list[dict[str, str]]:
    """Every kind of step."""
    return [{"key": key, "title": _(title)} for key, title in KINDS.items()]
