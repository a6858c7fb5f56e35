"""What the facts that templates name are called, and in which unit their numbers are.

The tree itself is `shop.jobs.format.facts`, the words are in `shop.jobs.format.vocabulary`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

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


def title_in_words(path: str) -> str:
    """What a fact is called; one without words of its own by what it is part of."""
    if path in TITLES:
        return _(TITLES[path])
    around, _point, name = path.rpartition(".")
    return f"{title_in_words(around)}: {field_in_words(name)}" if around else field_in_words(name)


def field_in_words(name: str) -> str:
    """What one field of a row is called."""
    return _(FIELDS[name]) if name in FIELDS else name.replace("_", " ")


def choice_in_words(value: Any) -> str:
    known = CHOICES.get(str(value))
    return _(known) if known else str(value)


def unit_of(path: str) -> tuple[str, str | None]:
    """(unit, quantity) of a number, from the last word of its name."""
    unit, quantity = UNITS.get(path.replace(".", "_").rpartition("_")[2], ("", None))
    if quantity == "voltage_dc" and path.startswith(ON_MAINS):
        quantity = "voltage_ac"
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
        title = _(TITLES[full]) if full in TITLES else field_in_words(name)
        yield {"path": full, "title": title, **_kind(full, shape)}


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
